"""``gloveside demo`` and ``gloveside hear`` on the real recogniser; skipped without its model."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from assistant.speech.models.catalogue import models_folder
from assistant.speech.voice.rendering import Renderer
from tests.cli.command import FLAGSHIP, KF_07, gloveside

pytestmark = pytest.mark.skipif(
    not (models_folder() / "moonshine-tiny-en" / "encoder_model.ort").exists(),
    reason="the recogniser's model is not fetched: gloveside model fetch",
)


@pytest.fixture(scope="module")
def demo(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("demo") / "job"
    outcome = gloveside("demo", "--job", folder)
    assert outcome.code == 0, outcome.out
    (folder / "out.txt").write_text(outcome.out)
    return folder


def heard(job: Path) -> list[dict[str, object]]:
    entries = [json.loads(line) for line in (job / "journal.jsonl").read_text().splitlines()]
    return [entry for entry in entries if entry["kind"] == "heard"]


def test_both_rotors_are_wrong_at_first_and_right_at_the_end(demo: Path) -> None:
    out = (demo / "out.txt").read_text()
    before, after = out.split("As left")
    assert before.count("wrong\n") == 2
    assert after.count("right\n") == 2


def test_one_rotor_had_changed_over_and_one_had_not(demo: Path) -> None:
    verdicts = [entry["advice"]["verdict"] for entry in heard(demo) if "advice" in entry]  # type: ignore[index]
    assert {"already", "not-yet", "contradiction"} <= set(verdicts)


def test_every_reply_went_through_the_recogniser_and_kept_its_clip(demo: Path) -> None:
    for entry in heard(demo):
        assert entry["heard"]["engine"] == "moonshine-tiny-en"  # type: ignore[index]
        assert entry["heard"]["seconds"] > 0.3  # type: ignore[index]
        assert (demo / entry["clip"]["file"]).is_file()  # type: ignore[index]


def test_the_job_verifies_and_has_a_record(demo: Path) -> None:
    assert gloveside("verify", demo).code == 0
    assert "<audio" in (demo / "record.html").read_text()


def test_a_clip_that_was_exchanged_is_named_with_its_line(demo: Path) -> None:
    first, second = sorted((demo / "clips").glob("*.wav"))[:2]
    whole = first.read_bytes()
    first.write_bytes(second.read_bytes() + b"\0\0")
    outcome = gloveside("verify", demo)
    first.write_bytes(whole)
    assert outcome.code == 1
    assert f"clips/{first.name}" in outcome.out


def test_a_job_that_exists_is_not_overwritten(demo: Path) -> None:
    outcome = gloveside("demo", "--job", demo)
    assert outcome.code == 2


def test_hear_prints_one_object_a_clip(tmp_path: Path) -> None:
    with Renderer(tmp_path) as renderer:
        clips = [renderer.render("one and two closed"), renderer.render("five open")]
    broken = tmp_path / "broken.wav"
    broken.write_bytes(b"RIFF")
    outcome = gloveside("hear", "--json", clips[0], broken, clips[1])
    assert outcome.code == 1
    assert "broken.wav" in outcome.err
    first, second = (json.loads(line) for line in outcome.out.splitlines())
    assert set(first) == {"file", "text", "meaning", "confidence", "level", "seconds", "engine"}
    assert first["meaning"] == {"contacts": {"1": "closed", "2": "closed"}}
    assert second["meaning"] == {"contacts": {"5": "open"}}


def test_hear_takes_the_grammar_of_a_step(tmp_path: Path) -> None:
    with Renderer(tmp_path) as renderer:
        clip = renderer.render("counterclockwise")
    words = ("hear", "--json", clip, "--procedure", FLAGSHIP, "--unit", KF_07, "--step")
    outcome = gloveside(*words, "open-end/set/end-stop")
    assert json.loads(outcome.out)["meaning"] == {"rotation": "counterclockwise"}
    wrong = gloveside(*words, "open-end/nothing")
    assert wrong.code == 2
    assert "open-end/set/end-stop" in wrong.err


def test_hear_leaves_out_what_is_asked_about_a_rotor_that_the_unit_lacks() -> None:
    check = FLAGSHIP.with_name("second-check.yaml")
    words = ("hear", "none.wav", "--procedure", check, "--unit", KF_07, "--step")
    outcome = gloveside(*words, "check-third/prove/before")
    assert outcome.code == 2
    what, _, steps = outcome.err.partition("; the steps that ask: ")
    assert what.endswith("no question of KF-07 at 'check-third/prove/before'")
    assert "check-open/prove/before" in steps
    assert "check-third/prove/before" not in steps
