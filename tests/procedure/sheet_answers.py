"""What is typed for a unit sheet that is known already."""

from __future__ import annotations

from collections.abc import Iterator

from assistant.procedure.new_sheet import Interview
from assistant.procedure.new_sheet.questions import Key
from assistant.trade.unit import Rotor, Unit


def interviewed(unit: Unit) -> Interview:
    """The interview in which everything is answered as a unit has it."""
    interview = Interview()
    while (question := interview.question) is not None:
        interview = interview.answered(answer_for(unit, question.key))
    return interview


def answers_for(unit: Unit) -> Iterator[str]:
    """The same, as lines at the keyboard."""
    return (text for _, text in interviewed(unit).answers)


def answer_for(unit: Unit, key: Key) -> str:
    match key:
        case ("numbers", name, part):
            number = unit.numbers.get(name.replace("-", "_"))
            return "" if number is None else f"{getattr(number, part)}"
        case ("rotors", name, part):
            return _of_rotor(unit.rotor(name), part)
        case ("contacts", number):
            ((low, high),) = unit.development.closed[int(number)]
            return f"{low} to {high}"
        case ("lamps", index, part):
            lamps = unit.lamps[int(index) - 1 : int(index)]
            return str(getattr(lamps[0], part)) if lamps else ""
        case (name,):
            return _of_head(unit)[name]
    raise AssertionError(f"nothing is known of {key}")


def _of_head(unit: Unit) -> dict[str, str]:
    return {
        "unit": unit.tag,
        "spoken": unit.spoken or "",
        "service": unit.service,
        "drawing": unit.drawing,
        "revision": unit.revision,
        "seating": unit.seating.value,
        "rotor-count": str(len(unit.rotors)),
        "bypass-contact": "" if unit.bypass is None else str(unit.bypass),
    }


def _of_rotor(rotor: Rotor, part: str) -> str:
    return {
        "contacts": ", ".join(map(str, rotor.contacts)),
        "set-at": rotor.place.value,
        "set-while": rotor.set_while.value,
    }[part]
