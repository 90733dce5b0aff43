"""The longest that a value can be to say, so that a text can be measured before any job.

Samples, not limits: a tag or a paper may be longer on another site. They are those of a valve with
sixteen contacts on four rotors, of a stroke of up to two hundred turns counted in quarters, and of
papers of four letters and figures; a test holds them against all that the shipped units can say.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from types import MappingProxyType

from assistant.language.speaking import say_choice
from assistant.procedure.model import Ask, Compute, Reference, Template
from assistant.procedure.names import kind_of
from assistant.procedure.program import Node, Program
from assistant.procedure.values import FIELDS, Kind

__all__ = ["LONGEST", "LONGEST_FIELDS", "LONGEST_REASONS", "filled"]

_NUMBER = "one hundred and seventy seven and three quarters turns"
_COUNT = "seventy seven and three quarters"
_SPELT = "kilo foxtrot echo seven zero seven"
_CONTACTS = "thirteen, fourteen, fifteen and sixteen"
_ALL_CONTACTS = (
    "one, two, three, four, five, six, seven, eight, nine, ten, eleven, twelve, thirteen, "
    "fourteen, fifteen and sixteen"
)
_LAMPS = "closed lamp and open lamp lit"
_PERCENT = "ninety seven point seven seven percent"
_DIRECTION = (
    "Contact 13 is closed and contact 15 is open, as past the trip, but contact 16 is closed and "
    "contact 14 is open, as before it."
)
_APART = "Contacts 1, 3, 5, 7, 9, 11, 13 and 15 do not go with the other contacts of their rotors."

LONGEST: Mapping[Kind, str] = MappingProxyType(
    {
        Kind.UNIT: _SPELT,
        Kind.ROTOR: "closed",
        Kind.CONTACTS: _CONTACTS,
        Kind.READING: "thirteen and fifteen closed, fourteen and sixteen open",
        Kind.ROTATION: "counterclockwise",
        Kind.TRAVEL: "toward closed",
        Kind.NUMBER: _NUMBER,
        Kind.TEXT: "Discharge gate valve of irrigation pump seven.",
        Kind.LETTERS: "whiskey seven one seven",
        Kind.DATE: "27 September 2037",
        Kind.MOMENT: "17:37:57",
        Kind.LAMPS: _LAMPS,
        Kind.ADVICE: _DIRECTION,
        Kind.SWEEP: "17 change-overs",
        Kind.TRIP: _PERCENT,
    }
)
"""A long sample of each kind."""

LONGEST_FIELDS: Mapping[tuple[Kind, str], str] = MappingProxyType(
    {
        (Kind.UNIT, "tag"): _SPELT,
        (Kind.UNIT, "spoken"): _SPELT,
        (Kind.UNIT, "drawing"): _SPELT,
        (Kind.UNIT, "revision"): "charlie seven",
        (Kind.UNIT, "seating"): "position",
        (Kind.UNIT, "contacts"): _ALL_CONTACTS,
        (Kind.UNIT, "rotor-count"): "four",
        (Kind.UNIT, "has-bypass"): "yes",
        (Kind.UNIT, "has-lamps"): "yes",
        (Kind.ROTOR, "name"): "closed",
        (Kind.ROTOR, "approach"): "against",
        (Kind.ROTOR, "stop"): "closed stop",
        (Kind.ROTOR, "turns"): "twenty seven and three quarters turns",
        (Kind.ROTOR, "search"): "three and three quarters turns",
        (Kind.ROTOR, "start"): "twenty seven and three quarters turns",
        (Kind.ROTOR, "last"): "one and three quarters turns",
        (Kind.ROTOR, "trip"): _PERCENT,
        (Kind.ROTOR, "rounding"): ", rounded from twenty seven point eight eight",
        (Kind.ADVICE, "verdict"): "already",
        (Kind.ADVICE, "finding"): "Not changed over yet.",
        (Kind.ADVICE, "reason"): "Contacts 13 and 14 are open and contacts 15 and 16 are closed; "
        "past the trip it is the other way round: this rotor has not changed over yet. While "
        "closing, its shaft turned counterclockwise: turn the same way, counterclockwise.",
        (Kind.TRIP, "percent"): _PERCENT,
        (Kind.TRIP, "error"): _PERCENT,
    }
)
"""Longer or shorter samples than of the kind, for some fields."""

_STROKES = (
    "Counted one hundred and seventy seven and three quarters turns. The sheet says one hundred "
    "and seventy seven and three quarters turns."
)

LONGEST_REASONS: Mapping[str, str] = MappingProxyType(
    {
        "shaft-direction": _DIRECTION,
        "compare-readings": "The drawing wants thirteen and fourteen closed, fifteen and sixteen "
        "open.",
        "readings-agree": _APART,
        "start-sweep": "At the closed stop.",
        "add-to-sweep": "The stroke has ended: crank back to begin another.",
        "end-sweep": "77.75 turns cannot come after 77.75.",
        "diagnose": "Contacts 14 and 16 do not go with contacts 13 and 15: they may be wired the "
        "wrong way round.",
        "compare-stroke": _STROKES,
        "adopt-stroke": "A quarter turn is 0.77 % of this stroke: 97.77 % cannot be counted to "
        "within 0.77 %.",
        "as-found": "The fourth rotor changes over at seventy seven point seven seven percent, "
        "seventy seven point seven seven percent too far closed.",
        "prove-sense": "They stand as past the trip: changed over too early, or inverted by "
        "turning the shaft the wrong way. The way back is one cycle.",
        "prove-trip": "The trip is twenty seven and three quarters turns, seventy seven point "
        "seven seven percent, too far closed.",
        "bypass": "Contact 15 opens seventy seven and three quarters turns from the stop, before "
        "the disk leaves its seat. The torque switch could keep the valve shut.",
        "shaft-speed": "That was one thousand two hundred and seventy seven turns a minute.",
        "within-cycle": "One cycle is one hundred and seventy seven revolutions.",
        "compare-lamps": f"The drawing wants {_LAMPS}.",
        "distance-to-stop": "It should stop within one and three quarters turns of the stop.",
        "stroke-time": "The stroke took one hundred and seventy seven seconds. The data say one "
        "hundred and seventy seven seconds.",
        "not-overdue": "It was due on 27 September 2037.",
        "within-limits": f"{_COUNT.capitalize()} turns, from {_COUNT} to {_COUNT}.",
        "elapsed": "It took one hundred and seventy seven seconds.",
        "two-people": "Technician and checker are the same person.",
    }
)
"""A long reason (``because:``) of each computation. That of a direction is the reason of a
contradiction: why there is one is kept for the record, and ``advice.reason`` says it. Of what a
stroke shows one fault is taken, though there may be several."""


def filled(template: Template, node: Node, program: Program, kinds: Mapping[str, Kind]) -> str:
    """A text as it is spoken where every value in it is the longest.

    Args:
        template: a text of a step.
        node: the step.
        program: the procedure.
        kinds: of the names in it (see `names.kinds_of`).
    """
    return "".join(
        piece if isinstance(piece, str) else _longest(piece, node, program, kinds)
        for piece in template.pieces
    )


def _longest(reference: Reference, node: Node, program: Program, kinds: Mapping[str, Kind]) -> str:
    kind, fields = kind_of(node, reference.path, kinds)
    if kind is Kind.TEXT and not fields:
        name = node.scope.resolve(reference.path, kinds)[0]
        return max(_texts(name, program), key=len, default=LONGEST[Kind.TEXT])
    said = LONGEST[kind or Kind.TEXT]
    for field in fields:
        within = kind or Kind.TEXT
        kind = FIELDS[within][field].kind
        said = LONGEST_FIELDS.get((within, field), LONGEST[kind])
    return said


def _texts(name: str, program: Program) -> Iterator[str]:
    """What a name can stand for that is given a text: a reason, or a choice."""
    for node in program.nodes.values():
        match node.step.action:
            case Compute(computation=computation, because=str(because)):
                if node.scope.absolute(because) == name:
                    yield LONGEST_REASONS[computation]
            case Ask(into=str(into), choices=choices):
                if node.scope.absolute(into) == name:
                    yield from map(say_choice, choices)
