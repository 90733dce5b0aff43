"""Which lamps are lit."""

from __future__ import annotations

import pytest

from assistant.language.answers import AskLamps, grammar
from assistant.language.english import english
from assistant.language.meaning import Lit, Meaning

CLOSED, OPEN, FAULT = "closed lamp", "open lamp", "fault lamp"
TWO = AskLamps(((CLOSED, "green"), (OPEN, "red")))
SAME = AskLamps(((CLOSED, "white"), (OPEN, "white"), (FAULT, "amber")))
ONE = AskLamps(((OPEN, "red"),))


def understood(question: AskLamps, text: str) -> Meaning | None:
    return grammar(question, english()).parse(text)


# The plain sense of the English; no source.
@pytest.mark.parametrize(
    ("question", "text", "lit"),
    [
        (TWO, "none", ()),
        (TWO, "none lit", ()),
        (TWO, "no lamp lit", ()),
        (TWO, "No lamps.", ()),
        (TWO, "all dark", ()),
        (TWO, "both dark", ()),
        (TWO, "both lamps dark", ()),
        (TWO, "both", (CLOSED, OPEN)),
        (TWO, "both lit", (CLOSED, OPEN)),
        (TWO, "both lamps lit", (CLOSED, OPEN)),
        (TWO, "all", (CLOSED, OPEN)),
        (TWO, "open lamp", (OPEN,)),
        (TWO, "Open lamp lit.", (OPEN,)),
        (TWO, "open lamp only", (OPEN,)),
        (TWO, "only the open lamp lit", (OPEN,)),
        (TWO, "only open lamp", (OPEN,)),
        (TWO, "red", (OPEN,)),
        (TWO, "red light", (OPEN,)),
        (TWO, "red lamp only", (OPEN,)),
        (TWO, "red lit", (OPEN,)),
        (TWO, "green and red", (CLOSED, OPEN)),
        (TWO, "red and green lamps lit", (CLOSED, OPEN)),
        (TWO, "red, green", (CLOSED, OPEN)),
        (TWO, "open lamp and closed lamp", (CLOSED, OPEN)),
        (TWO, "open lamp and green", (CLOSED, OPEN)),
        (SAME, "amber", (FAULT,)),
        (SAME, "open lamp", (OPEN,)),
        (SAME, "fault lamp, open lamp and closed lamp", (CLOSED, OPEN, FAULT)),
        (SAME, "all lit", (CLOSED, OPEN, FAULT)),
        (SAME, "all dark", ()),
        (ONE, "red", (OPEN,)),
        (ONE, "none", ()),
        (AskLamps((("lamp-1", "red"), ("lamp-2", "red"))), "lamp two", ("lamp-2",)),
        (AskLamps((("red", "red"), ("green", "green"))), "green", ("green",)),
    ],
)
def test_phrases(question: AskLamps, text: str, lit: tuple[str, ...]) -> None:
    assert understood(question, text) == Lit(lit)


@pytest.mark.parametrize(
    ("question", "text"),
    [
        (SAME, "white"),  # which of the two?
        (SAME, "white lamp"),
        (SAME, "white and amber"),
        (SAME, "both"),  # there are three
        (SAME, "both dark"),
        (ONE, "both"),
        (TWO, "open lamp and red"),  # one lamp twice: which was the other?
        (TWO, "red red"),
        (TWO, "amber"),
        (TWO, "open"),  # not the lamp, the valve?
        (TWO, "lamp"),
        (TWO, "lit"),
        (TWO, "dark"),
        (TWO, "only"),
        (TWO, "no"),
        (TWO, "open lamp dark"),
        (TWO, "red and"),
        (TWO, "and red"),
        (TWO, "none red"),
        (TWO, ""),
    ],
)
def test_what_is_not_understood(question: AskLamps, text: str) -> None:
    assert understood(question, text) is None


@pytest.mark.parametrize(
    ("lamps", "message"),
    [
        ((("hold", "red"),), "the lamp 'hold' sounds like the command 'hold'.*rename"),
        (((OPEN, "stop"),), "the lamp 'stop' sounds like the command"),
        (((OPEN, "red"), (OPEN, "green")), "the lamp 'open lamp' sounds like the lamp"),
        ((("open-lamp", "red"), (OPEN, "green")), "sounds like the lamp 'open-lamp'"),
        ((("both", "red"), (OPEN, "green")), "sounds like the answer 'both'"),
        (((OPEN, "dark"),), "sounds like the answer 'dark'"),
        ((("--", "red"),), "has no words to say"),
    ],
)
def test_lamps_that_cannot_be_told_apart_are_refused(
    lamps: tuple[tuple[str, str], ...], message: str
) -> None:
    with pytest.raises(ValueError, match=message):
        grammar(AskLamps(lamps), english())


def test_a_question_for_no_lamps_is_refused() -> None:
    with pytest.raises(ValueError, match="needs lamps"):
        AskLamps(())
