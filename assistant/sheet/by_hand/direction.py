"""Which way to turn a shaft, as a table: the verdict from the contacts, the way from the shaft."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from assistant.procedure.values import Kind, RotorOfUnit, Value, field_of, say
from assistant.sheet.by_hand.case import ByHand, Case, Row, Writer, figures, reading
from assistant.trade.motion import Rotation
from assistant.trade.shaft import Advice

__all__ = ["DIRECTION"]

_HEADS = ("contacts read", "shaft seen turning", "turn the shaft", "then leave contacts")
_EITHER = "clockwise or counterclockwise"


def _shaft_direction(case: Case) -> ByHand:
    of = case.rotor
    rows = tuple(_on_unit(case, of)) if of else tuple(_on_any())
    read, past = ("some as past the trip, some as before it",), ("as before",)
    if of:
        read = (f"anything else than {figures(of.unit.before(of.rotor))}",)
        past = (f"or {figures(of.unit.past(of.rotor))}",)
    contradiction = Row(
        "contradiction",
        ((*read, " ", *past), (_EITHER,), ("no direction",), ("as they are",)),
        ("Name the contacts that stand as past the trip, and those that stand as before it.",),
    )
    shaft, contacts = case.blank("seen"), case.blank("reading")
    work = (
        ("Shaft: ", shaft, ". Contacts: ", contacts, ". Find both in one row."),
        ("Of that row, later: the finding is what is said, turn the way to turn the shaft,",),
        ("back the other way, leave the contacts as they are to be left.",),
    )
    return ByHand(_HEADS, (*rows, contradiction), work)


def _on_unit(case: Case, of: RotorOfUnit) -> Iterator[Row]:
    """The four rows, as the computation itself finds them."""
    for states in (of.unit.before(of.rotor), of.unit.past(of.rotor)):
        for seen in Rotation:
            found = case.run(
                {
                    "rotor": Value(Kind.ROTOR, of),
                    "seen": Value(Kind.ROTATION, seen),
                    "reading": reading(states),
                }
            )
            assert found.result is not None, "a whole reading of one kind gives a direction"
            advice: Advice = found.result.content
            cells = (
                figures(states),
                seen.value,
                str(advice.turn),
                figures(advice.leave),
            )
            yield Row(
                found.outcome,
                tuple((cell,) for cell in cells),
                (say(field_of(found.result, "finding")),),
            )


def _on_any() -> Iterator[Row]:
    """The same where the drawing is still to be looked at (common practice)."""
    for outcome, side in (("not-yet", "before"), ("already", "past")):
        for seen in Rotation:
            turn = seen if outcome == "not-yet" else seen.opposite
            cells = (
                f"all as the drawing shows them {side} the trip",
                seen.value,
                turn.value,
                "as the drawing shows them past the trip",
            )
            yield Row(outcome, tuple((cell,) for cell in cells), ("Say which verdict it is.",))


DIRECTION: Mapping[str, Writer] = {"shaft-direction": _shaft_direction}
