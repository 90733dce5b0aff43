"""The verdict of a second person, who says the own role word first."""

from __future__ import annotations

import pytest

from assistant.language.answers import AskAgreement, confirming, grammar
from assistant.language.english import english
from assistant.language.meaning import Agreement, Command, Meaning, Word


def understood(role: str, text: str) -> Meaning | None:
    return grammar(AskAgreement(role), english()).parse(text)


@pytest.mark.parametrize(
    ("role", "text", "agrees"),
    [
        ("checker", "checker correct", True),
        ("checker", "Checker, yes.", True),
        ("checker", "checker no", False),
        ("checker", "second checker wrong", False),
        ("checker", "Second checker, correct.", True),
        ("technician", "technician correct", True),
        ("technician", "technician wrong", False),
    ],
)
def test_a_role_word_and_a_verdict(role: str, text: str, agrees: bool) -> None:
    assert understood(role, text) == Agreement(role, agrees)


@pytest.mark.parametrize(
    "text",
    [
        "correct",  # whose voice was it?
        "yes",
        "no",
        "wrong",
        "checker",
        "second correct",
        "technician correct",  # another role
        "correct checker",
        "checker checker correct",
        "checker correct wrong",
        "checker done",
        "",
    ],
)
def test_what_is_not_understood(text: str) -> None:
    assert understood("checker", text) is None


def test_a_recogniser_may_hear_a_verdict_alone_so_that_it_takes_it_for_nothing_else() -> None:
    spoken = grammar(AskAgreement("checker"), english())
    first = {arc.term.spoken: arc.target for arc in spoken.arcs(spoken.start)}
    assert {"checker", "second checker", "yes", "correct", "no", "wrong"} <= first.keys()
    assert spoken.is_end(first["correct"])
    assert "correct" not in set(spoken.sentences())


def test_a_read_back_of_it_takes_yes_and_no_alone() -> None:
    spoken = confirming(AskAgreement("checker"), english())
    assert spoken.parse("yes") == Command(Word.YES)
    assert spoken.parse("wrong, checker correct") is None


def test_an_unknown_role_is_refused_with_those_known() -> None:
    with pytest.raises(ValueError, match=r"'witness'.*technician, checker"):
        grammar(AskAgreement("witness"), english())
