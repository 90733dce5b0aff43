"""Numbers with a word before them, and words in place of a number."""

from __future__ import annotations

import pytest

from assistant.language.answers import AskNumber, confirming, grammar
from assistant.language.english import english
from assistant.language.meaning import Called, Choice, Correction, Meaning, Quantity

CALLED = AskNumber("turns", called=("mark", "full-stop"), instead=("none", "not-seen"))
INSTEAD = AskNumber("turns", instead=("none",))


def understood(question: AskNumber, text: str) -> Meaning | None:
    return grammar(question, english()).parse(text)


# The plain sense of the English; no source.
@pytest.mark.parametrize(
    ("text", "name", "value"),
    [
        ("mark, four and a half turns", "mark", 4.5),
        ("Mark four and a half.", "mark", 4.5),
        ("mark at twelve", "mark", 12),
        ("mark at half a turn", "mark", 0.5),
        ("mark one hundred and twenty turns", "mark", 120),
        ("mark 4.5", "mark", 4.5),
        ("mark 120", "mark", 120),
        ("full stop sixty two", "full-stop", 62),
        ("Full-stop at 62 turns.", "full-stop", 62),
    ],
)
def test_a_word_and_a_number(text: str, name: str, value: float) -> None:
    assert understood(CALLED, text) == Called(name, Quantity(value, "turns"))


@pytest.mark.parametrize(
    ("text", "name"), [("none", "none"), ("Not seen.", "not-seen"), ("not-seen", "not-seen")]
)
def test_a_word_in_place_of_a_number(text: str, name: str) -> None:
    assert understood(CALLED, text) == Choice(name)


def test_without_words_before_it_the_number_stands_alone() -> None:
    assert understood(INSTEAD, "four and a half turns") == Quantity(4.5, "turns")
    assert understood(INSTEAD, "none") == Choice("none")
    assert understood(INSTEAD, "at four turns") is None


def test_a_bare_number_may_be_called() -> None:
    question = AskNumber(None, called=("end",))
    assert understood(question, "end sixty two") == Called("end", Quantity(62, None))


@pytest.mark.parametrize(
    "text",
    [
        "mark",  # the number was lost
        "mark at",
        "four and a half turns",  # the word was lost
        "at twelve",
        "none twelve",
        "mark none",
        "mark mark twelve",
        "mark full stop twelve",
        "twelve mark",
        "mark two percent",
        "mark one hundred and zero",
        "end sixty two",
    ],
)
def test_what_is_not_understood(text: str) -> None:
    assert understood(CALLED, text) is None


def test_with_neither_all_is_as_for_any_number() -> None:
    assert grammar(AskNumber("turns", (), ()), english()) is grammar(AskNumber("turns"), english())


def test_a_correction_holds_the_word_too() -> None:
    spoken = confirming(CALLED, english())
    told = Called("mark", Quantity(12, "turns"))
    assert spoken.parse("wrong, mark at twelve") == Correction(told)
    assert spoken.parse("no, none") == Correction(Choice("none"))
    assert spoken.parse("wrong, twelve turns") is None


@pytest.mark.parametrize(
    ("called", "instead", "message"),
    [
        (("hold",), (), "the word 'hold' sounds like the command 'hold'.*rename"),
        (("mark",), ("go-back",), "the word 'go-back' sounds like the command"),
        (("mark", "mark"), (), "the word 'mark' sounds like the word 'mark'"),
        (("full stop",), ("full-stop",), "sounds like the word 'full stop'"),
        (("twelve",), (), "the word 'twelve' sounds like a number: rename it"),
        (("12",), (), "the word '12' sounds like a number"),
        ((), ("one-hundred-and-five",), "sounds like a number"),
        ((), ("half a turn",), "sounds like a number"),
        ((), ("won",), "sounds like a number"),  # a recogniser's other spelling of one
        (("--",), (), "has no words to say"),
    ],
)
def test_words_that_cannot_be_told_apart_are_refused(
    called: tuple[str, ...], instead: tuple[str, ...], message: str
) -> None:
    with pytest.raises(ValueError, match=message):
        grammar(AskNumber("turns", called, instead), english())


def test_a_unit_without_words_is_refused_by_name() -> None:
    with pytest.raises(ValueError, match=r"furlongs.*turns"):
        grammar(AskNumber("furlongs", called=("mark",)), english())
