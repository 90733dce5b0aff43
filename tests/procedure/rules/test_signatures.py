"""Signatures under another's name, at another moment, or left out.

That a signature shows the name, the time and the meaning: 21 CFR 11.50.
"""

from __future__ import annotations

import pytest

from assistant.language.english import english
from assistant.procedure.gather import gather
from assistant.procedure.load import build_program
from assistant.procedure.problems import Problem
from assistant.procedure.rules.judge import judge
from assistant.procedure.rules.subject import Means
from tests.procedure.shipped import PROCEDURES

FLAGSHIP, CHECK, FINISH = "set-geared-limits.yaml", "second-check.yaml", "parts/finish.yaml"
SIGNED = "signed-checked: checker, signed-checked-at: checker-signed"
CALLED = "with: {technician: technician, checker: checker}"
TECHNICIAN_SIGNS = "record: {signed-done: technician, signed-done-at: technician-signed}"
CHECKER_SIGNS = f"record: {{{SIGNED}}}"


def problems(main: str, rule: str, *changes: tuple[str, str, str]) -> list[Problem]:
    """What a rule says once files were changed."""

    def text_of(name: str) -> str:
        text = (PROCEDURES / name).read_text(encoding="utf-8")
        for file, old, new in changes:
            if file == name:
                assert old in text
                text = text.replace(old, new, 1)
        return text

    gathered = gather(main, text_of, "")
    program = build_program(gathered.main, gathered.parts())
    return [one for one in judge(gathered, program, Means(english())) if one.rule == rule]


@pytest.mark.parametrize(
    ("file", "old", "new"),
    [
        (FINISH, SIGNED, SIGNED.replace(": checker,", ": technician,")),
        (FINISH, SIGNED, SIGNED.replace("checked-at: checker-", "checked-at: technician-")),
        (FINISH, SIGNED, "sign-checked: checker, sign-checked-at: checker-signed"),
        (FINISH, SIGNED, "signed-checked-at: checker-signed"),
        (FLAGSHIP, CALLED, "with: {technician: checker, checker: technician}"),
        (FLAGSHIP, CALLED, "with: {technician: technician, checker: tester}"),
        ("parts/papers.yaml", "technician: technician,", "signed-done: technician,"),
    ],
)
def test_a_signature_that_is_none_is_found(file: str, old: str, new: str) -> None:
    assert problems(FLAGSHIP, "own-signature") == []
    assert problems(FLAGSHIP, "own-signature", (file, old, new))


def test_a_check_signed_with_the_first_technician_is_found() -> None:
    change = (CHECK, "signed-checked: checker", "signed-checked: technician")
    (problem,) = problems(CHECK, "own-signature", change)
    assert problem.level == "error"
    assert "signature of the checker, and the name is that of 'technician'" in problem.message


@pytest.mark.parametrize(
    ("changes", "who"),
    [
        ([(FINISH, TECHNICIAN_SIGNS, "record: {done: technician}")], "technician"),
        ([(FINISH, CHECKER_SIGNS, "record: {checked: checker}")], "checker"),
        (
            [
                (FINISH, TECHNICIAN_SIGNS, "record: {done: technician}"),
                (FINISH, CHECKER_SIGNS, "record: {checked: checker}"),
            ],
            "checker and technician",
        ),
    ],
)
def test_a_job_that_ends_unsigned_is_warned_of(
    changes: list[tuple[str, str, str]], who: str
) -> None:
    assert problems(FLAGSHIP, "signed-at-end") == []
    (problem,) = problems(FLAGSHIP, "signed-at-end", *changes)
    assert problem.level == "warning"
    assert f"without a signature of the {who}:" in problem.message


def test_nobody_signs_for_a_stroke_time() -> None:
    assert problems("stroke-time-check.yaml", "signed-at-end") == []
