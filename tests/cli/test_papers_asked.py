"""Papers that are asked for at the keyboard."""

from __future__ import annotations

import pytest

from assistant.cli.papers import all_papers
from tests.procedure.refusals import END, HEAD, load


def test_a_number_is_asked_for_in_its_unit(monkeypatch: pytest.MonkeyPatch) -> None:
    asked: list[str] = []

    def typed(prompt: str) -> str:
        asked.append(prompt)
        return "38"

    monkeypatch.setattr("sys.stdin.isatty", lambda: True)
    monkeypatch.setattr("builtins.input", typed)
    papers = "papers: {order: letters, least-torque: {number: newton metres}}\n"
    program = load(f"{HEAD}{papers}steps:\n{END}")
    assert all_papers(["order=W417"], program) == {"order": "W417", "least-torque": "38"}
    assert asked == ["least torque, in newton metres: "]
