"""Phrases of the job that were chosen by hand, to compare with earlier figures."""

from __future__ import annotations

from assistant.language.answers import (
    AskAgreement,
    AskContacts,
    AskDone,
    AskLamps,
    AskNumber,
    AskRotation,
    AskSpelling,
    AskYesNo,
)
from tests.bench.replies import Said

__all__ = ["CHOSEN"]

FIRST, SECOND, TWO = AskContacts((1, 2, 3, 4)), AskContacts((5, 6, 7, 8)), AskContacts((1, 2))
TURNS = AskNumber("turns")
STROKE = AskNumber("turns", most=99)
CHANGE = AskNumber("turns", called=("mark", "full-stop"), instead=("none",), most=99)
LAMPS = AskLamps((("closed lamp", "green"), ("open lamp", "red")))
TECHNICIAN, CHECKER = AskAgreement("technician"), AskAgreement("checker")

CHOSEN = {
    "20 phrases": (
        Said("one and two closed", FIRST),
        Said("one closed two closed", FIRST),
        Said("both closed", TWO),
        Said("one closed two open", FIRST),
        Said("one through four open", FIRST),
        Said("five and six are open", SECOND),
        Said("all four closed", FIRST),
        Said("contact five is closed", SECOND),
        Said("clockwise", AskRotation()),
        Said("counterclockwise", AskRotation()),
        Said("anticlockwise", AskRotation()),
        Said("yes", AskYesNo()),
        Said("no", AskYesNo()),
        Said("correct", AskYesNo()),
        Said("done", AskDone()),
        Said("say again", FIRST),
        Said("hold", FIRST),
        Said("carry on", AskRotation()),
        Said("one and a half turns", TURNS),
        Said("twenty five turns", TURNS),
    ),
    "spelled tags": (
        Said("kilo foxtrot zero seven", AskSpelling()),
        Said("kilo foxtrot one two", AskSpelling()),
    ),
    "lamps and agreements": (
        Said("open lamp", LAMPS),
        Said("closed lamp", LAMPS),
        Said("open lamp only", LAMPS),
        Said("both lamps lit", LAMPS),
        Said("both lamps dark", LAMPS),
        Said("red and green", LAMPS),
        Said("technician correct", TECHNICIAN),
        Said("technician wrong", TECHNICIAN),
        Said("checker correct", CHECKER),
        Said("checker wrong", CHECKER),
    ),
    "counts below one hundred": (
        Said("two turns", STROKE),
        Said("five turns", STROKE),
        Said("nine turns", STROKE),
        Said("thirteen turns", STROKE),
        Said("thirty turns", STROKE),
        Said("twelve and a half turns", STROKE),
        Said("forty six and a quarter turns", STROKE),
        Said("sixty two turns", STROKE),
        Said("mark five turns", CHANGE),
        Said("mark nine turns", CHANGE),
        Said("mark fifteen turns", CHANGE),
        Said("mark fifty turns", CHANGE),
        Said("full stop sixty two turns", CHANGE),
        Said("none", CHANGE),
    ),
}
"""By the name of the group; the first is the floor, the others are beyond it."""
