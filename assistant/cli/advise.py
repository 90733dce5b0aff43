"""``gloveside advise``: the direction alone, with its reasons."""

from __future__ import annotations

import argparse
import json
import re
from pathlib import Path

from assistant.cli.complaint import Complaint, Exit
from assistant.procedure.unit_sheet import load_unit
from assistant.trade.contacts import ContactState
from assistant.trade.motion import Rotation, Travel
from assistant.trade.shaft import Advice, AdviceError, Verdict, advise
from assistant.trade.unit import UnitError

__all__ = ["arguments", "run"]

_CONTACT = re.compile(r"\s*(\d{1,2})\s+(open|closed)\s*")


def arguments(parser: argparse.ArgumentParser) -> None:
    """Declare the arguments of the verb."""
    parser.add_argument("--unit", type=Path, required=True, metavar="FILE", help="the unit sheet")
    parser.add_argument("--rotor", required=True, metavar="NAME", help="the rotor to be set")
    parser.add_argument(
        "--while-moving",
        action="append",
        required=True,
        metavar="TRAVEL=ROTATION",
        help="how its shaft was seen to turn, e.g. opening=counterclockwise; may be repeated",
    )
    parser.add_argument(
        "--contacts", required=True, metavar="LIST", help="what was read, e.g. '1 open, 2 open'"
    )
    parser.add_argument("--json", action="store_true", help="print one JSON object")


def run(args: argparse.Namespace) -> Exit:
    """Print which way to turn the shaft; a contradiction is a problem found."""
    unit = load_unit(args.unit)
    try:
        rotor = unit.rotor(args.rotor)
        advice = advise(unit, rotor, _seen(args.while_moving), _reading(args.contacts))
    except (AdviceError, UnitError) as error:
        raise Complaint(str(error)) from error
    print(json.dumps(_as_json(advice)) if args.json else _as_text(advice))
    return Exit.PROBLEMS if advice.verdict is Verdict.CONTRADICTION else Exit.DONE


def _seen(pairs: list[str]) -> dict[Travel, Rotation]:
    seen: dict[Travel, Rotation] = {}
    for pair in pairs:
        travel, _, rotation = (part.strip() for part in pair.partition("="))
        try:
            key, value = Travel(travel), Rotation(rotation)
        except ValueError:
            raise Complaint(
                f"--while-moving '{pair}': write opening or closing, '=', and clockwise or "
                "counterclockwise"
            ) from None
        if seen.setdefault(key, value) is not value:
            raise Complaint(f"--while-moving: two different rotations for {travel}")
    return seen


def _reading(text: str) -> dict[int, ContactState]:
    reading: dict[int, ContactState] = {}
    for part in text.split(","):
        match = _CONTACT.fullmatch(part)
        if not match:
            raise Complaint(f"--contacts '{part.strip()}': write it like '1 open, 2 closed'")
        number, state = int(match[1]), ContactState(match[2])
        if reading.setdefault(number, state) is not state:
            raise Complaint(f"--contacts: contact {number} is given as open and as closed")
    return reading


def _as_json(advice: Advice) -> dict[str, object]:
    return {
        "verdict": advice.verdict.value,
        "turn": None if advice.turn is None else advice.turn.value,
        "leave": {str(number): state.value for number, state in sorted(advice.leave.items())},
        "reasons": list(advice.reasons),
    }


def _as_text(advice: Advice) -> str:
    if advice.turn is None:
        head = "No direction: what was read contradicts itself."
    else:
        left = ", ".join(f"{number} {state}" for number, state in sorted(advice.leave.items()))
        head = f"Turn {advice.turn} ({advice.verdict}). Leave the contacts {left}."
    return "\n".join((head, *(f"  {reason}" for reason in advice.reasons)))
