from __future__ import annotations

import itertools
from collections.abc import Mapping
from dataclasses import replace

import pytest

from assistant.trade import (
    AdviceError,
    ContactState,
    Development,
    Rotation,
    Rotor,
    Travel,
    Verdict,
    advise,
)
from tests.units import KF_07, OPEN

MADE, BROKEN = ContactState.CLOSED, ContactState.OPEN
CW, CCW = Rotation.CLOCKWISE, Rotation.COUNTERCLOCKWISE
OPENING, CLOSING = Travel.OPENING, Travel.CLOSING

# The direction table, row by row (common practice, no source).
TABLE = [
    ("open", (1, 2), BROKEN, OPENING, CCW, "not-yet", CCW),
    ("open", (1, 2), BROKEN, OPENING, CW, "not-yet", CW),
    ("open", (1, 2), MADE, OPENING, CCW, "already", CW),
    ("open", (1, 2), MADE, OPENING, CW, "already", CCW),
    ("closed", (5, 6), BROKEN, CLOSING, CW, "not-yet", CW),
    ("closed", (5, 6), BROKEN, CLOSING, CCW, "not-yet", CCW),
    ("closed", (5, 6), MADE, CLOSING, CW, "already", CCW),
    ("closed", (5, 6), MADE, CLOSING, CCW, "already", CW),
    # The same rows for the contacts that break past the trip.
    ("open", (3, 4), MADE, OPENING, CCW, "not-yet", CCW),
    ("open", (3, 4), MADE, OPENING, CW, "not-yet", CW),
    ("open", (3, 4), BROKEN, OPENING, CCW, "already", CW),
    ("open", (3, 4), BROKEN, OPENING, CW, "already", CCW),
    ("closed", (7, 8), MADE, CLOSING, CW, "not-yet", CW),
    ("closed", (7, 8), MADE, CLOSING, CCW, "not-yet", CCW),
    ("closed", (7, 8), BROKEN, CLOSING, CW, "already", CCW),
    ("closed", (7, 8), BROKEN, CLOSING, CCW, "already", CW),
]
# Common practice, no source: 1 and 2 close at the open end, 5 and 6 are closed at the closed end.
LEAVE = {
    "open": {1: MADE, 2: MADE, 3: BROKEN, 4: BROKEN},
    "closed": {5: MADE, 6: MADE, 7: BROKEN, 8: BROKEN},
}


@pytest.mark.parametrize(
    ("rotor", "contacts", "state", "moving", "shaft", "verdict", "turn"), TABLE
)
@pytest.mark.parametrize("seen_in", ["its own direction", "the other direction", "both"])
def test_direction_table(
    *,
    rotor: str,
    contacts: tuple[int, ...],
    state: ContactState,
    moving: Travel,
    shaft: Rotation,
    verdict: str,
    turn: Rotation,
    seen_in: str,
) -> None:
    own, other = {moving: shaft}, {moving.opposite: shaft.opposite}
    seen = {"its own direction": own, "the other direction": other, "both": own | other}[seen_in]
    advice = advise(KF_07, KF_07.rotor(rotor), seen, dict.fromkeys(contacts, state))
    assert (advice.verdict, advice.turn) == (Verdict(verdict), turn)
    assert advice.leave == LEAVE[rotor]


def test_one_contact_is_enough_and_all_must_agree() -> None:
    for contact, state in LEAVE["open"].items():
        assert advise(KF_07, OPEN, {OPENING: CW}, {contact: state}).verdict is Verdict.ALREADY
    assert advise(KF_07, OPEN, {OPENING: CW}, LEAVE["open"]).verdict is Verdict.ALREADY


def test_every_disagreement_is_a_contradiction() -> None:
    # One trip point a rotor (common practice, no source): of the 16 readings of four contacts
    # two are possible, past it and before it; the other 14 contradict themselves.
    verdicts = []
    for states in itertools.product(ContactState, repeat=4):
        advice = advise(KF_07, OPEN, {OPENING: CW}, dict(zip(OPEN.contacts, states, strict=True)))
        verdicts.append(advice.verdict)
        assert (advice.turn is None) == (advice.verdict is Verdict.CONTRADICTION)
        assert (advice.leave == {}) == (advice.verdict is Verdict.CONTRADICTION)
    assert verdicts.count(Verdict.CONTRADICTION) == 14


def test_shaft_turning_one_way_for_both_is_a_contradiction() -> None:
    advice = advise(KF_07, OPEN, {OPENING: CW, CLOSING: CW}, {1: MADE})
    assert (advice.verdict, advice.turn, advice.leave) == (Verdict.CONTRADICTION, None, {})
    assert "cannot turn clockwise both while opening and while closing" in advice.reasons[0]


def test_both_contradictions_are_named() -> None:
    advice = advise(KF_07, OPEN, {OPENING: CW, CLOSING: CW}, {1: MADE, 2: BROKEN})
    told = " ".join(advice.reasons)
    assert "The shaft cannot turn" in told
    assert "Contact 1 is closed" in told


def test_direction_follows_the_drawing_and_not_the_numbers() -> None:
    # The same readings under a drawing with makes and breaks exchanged give the other verdict.
    lines = KF_07.development.closed
    exchanged = replace(
        KF_07, development=Development({**lines, **dict.fromkeys((1, 2), lines[3])})
    )
    reading = dict.fromkeys((1, 2), MADE)
    assert advise(KF_07, OPEN, {OPENING: CW}, reading).turn is CCW
    assert advise(exchanged, OPEN, {OPENING: CW}, reading).turn is CW


# Our own wording; the figures and directions in it follow the direction table.
@pytest.mark.parametrize(
    ("seen", "reading", "reasons"),
    [
        (
            {OPENING: CCW},
            {1: BROKEN, 2: BROKEN},
            (
                "Contacts 1 and 2 are open; past the trip they are closed: "
                "this rotor has not changed over yet.",
                "While opening, its shaft turned counterclockwise: "
                "turn the same way, counterclockwise.",
            ),
        ),
        (
            {OPENING: CCW},
            {1: MADE},
            (
                "Contact 1 is closed, as past the trip: this rotor has already changed over.",
                "While opening, its shaft turned counterclockwise: "
                "turn the opposite way, clockwise.",
            ),
        ),
        (
            {CLOSING: CW},
            {2: BROKEN, 3: MADE},
            (
                "Contact 2 is open and contact 3 is closed; past the trip it is the other way "
                "round: this rotor has not changed over yet.",
                "While closing, its shaft turned clockwise.",
                "A shaft turns one way for opening and the other way for closing.",
                "So while opening, its shaft turns counterclockwise: "
                "turn the same way, counterclockwise.",
            ),
        ),
        (
            {OPENING: CW},
            {1: MADE, 2: BROKEN},
            (
                "Contact 1 is closed, as past the trip, but contact 2 is open, as before it.",
                "The contacts of one rotor change over together: read them again.",
                "One is misread, the rotor stands in mid-turn, or the drawing is wrong.",
            ),
        ),
    ],
)
def test_reasons_in_the_technicians_words(
    seen: Mapping[Travel, Rotation],
    reading: Mapping[int, ContactState],
    reasons: tuple[str, ...],
) -> None:
    assert advise(KF_07, OPEN, seen, reading).reasons == reasons


@pytest.mark.parametrize(
    ("rotor", "seen", "reading", "message"),
    [
        (OPEN, {}, {1: MADE}, "Watch the shaft"),
        (OPEN, {OPENING: CW}, {}, "Read the contacts"),
        (OPEN, {OPENING: CW}, {1: MADE, 5: MADE}, "contact 5 cannot be read on it"),
        (replace(OPEN, name="third"), {OPENING: CW}, {1: MADE}, "not a rotor of KF-07"),
    ],
)
def test_what_is_not_enough_is_refused(
    rotor: Rotor,
    seen: Mapping[Travel, Rotation],
    reading: Mapping[int, ContactState],
    message: str,
) -> None:
    with pytest.raises(AdviceError, match=message):
        advise(KF_07, rotor, seen, reading)
