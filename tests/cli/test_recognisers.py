"""The recognisers among which the user chooses."""

from __future__ import annotations

from pathlib import Path

import pytest

from assistant.cli import recognisers
from assistant.cli.complaint import Complaint
from assistant.cli.recognisers import DEFAULT_RECOGNISER, RECOGNISERS, Engine, open_recogniser
from assistant.speech.ears import Recogniser
from assistant.speech.fakes import FakeRecogniser
from assistant.speech.models.catalogue import catalogue


def test_an_entry_is_all_that_a_new_recogniser_needs_and_it_is_loaded_once(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    loaded: list[Path] = []

    def load(folder: Path) -> Recogniser:
        loaded.append(folder)
        return FakeRecogniser(["yes"])

    (tmp_path / "its-model").mkdir()
    monkeypatch.setattr("assistant.cli.folders.models_folder", lambda: tmp_path)
    entries = {**RECOGNISERS, "new": Engine("its-model", load)}
    monkeypatch.setattr(recognisers, "RECOGNISERS", entries)
    first, again = open_recogniser("new"), open_recogniser("new")
    assert first is again
    assert first.name == "fake"
    assert loaded == [tmp_path / "its-model"]


def test_a_model_that_was_not_fetched_is_named_with_the_remedy(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    monkeypatch.setattr("assistant.cli.folders.models_folder", lambda: tmp_path)
    for name, engine in RECOGNISERS.items():
        with pytest.raises(Complaint, match=f"gloveside model fetch {engine.model}"):
            open_recogniser(name)


def test_every_recogniser_has_its_model_in_the_catalogue() -> None:
    assert {engine.model for engine in RECOGNISERS.values()} <= set(catalogue())
    assert DEFAULT_RECOGNISER in RECOGNISERS
