"""Check that a unit has what a program asks of it."""

from __future__ import annotations

from collections.abc import Iterator

from assistant.language.spelling import LONGEST_SPELLING, letters_and_digits
from assistant.procedure.fields import nearest, quoted
from assistant.procedure.model import Ask, Call, Reference
from assistant.procedure.problems import FileRefused, Problem
from assistant.procedure.program import Node, Program
from assistant.procedure.uses import uses_of
from assistant.trade.unit import Place, Rotor, Unit

__all__ = ["check_fit"]

_ONLY_AT_A_STOP = frozenset({"back-off", "stop"})
"""Fields of a rotor that mean something only where it is set at an end of travel."""


def check_fit(program: Program, unit: Unit) -> None:
    """Refuse a program that asks for what the unit does not have.

    Raises:
        FileRefused: naming each rotor that is missing, or that is not set where the steps say, and
            what is too long to be spelled.
    """
    rotors = {rotor.name: rotor for rotor in unit.rotors}
    problems = [
        problem
        for node in program.nodes.values()
        for problem in (
            *_missing(node, rotors, unit),
            *_misplaced(node, rotors, unit),
            *_unspellable(node, unit),
        )
    ]
    if problems:
        raise FileRefused(problems)


def _missing(node: Node, rotors: dict[str, Rotor], unit: Unit) -> Iterator[Problem]:
    action = node.step.action
    if not isinstance(action, Call):
        return
    for _, value, place in action.arguments:
        name = node.scope.rotors.get(value, value)
        if name not in rotors:
            message = f"{unit.tag} has no rotor {quoted(name)}; {nearest(name, rotors)}"
            yield Problem(place, message, "unit")


def _misplaced(node: Node, rotors: dict[str, Rotor], unit: Unit) -> Iterator[Problem]:
    for use in uses_of(node):
        rotor = rotors.get(node.scope.rotors.get(use.reference.path[0], ""))
        if rotor is None or rotor.place is not Place.TRAVEL:
            continue
        if _ONLY_AT_A_STOP & set(use.reference.path[1:]):
            yield Problem(
                use.reference.place,
                f"'{use.reference}': rotor '{rotor.name}' of {unit.tag} is set in mid-travel, "
                "not at a stop; call a part made for that",
                "unit",
            )


def _unspellable(node: Node, unit: Unit) -> Iterator[Problem]:
    match node.step.action:
        case Ask(expect=Reference(path=("unit", name), place=place)):
            length = len(letters_and_digits(str(getattr(unit, name))))
            if length > LONGEST_SPELLING:
                message = (
                    f"the {name} of {unit.tag} has {length} letters and digits; "
                    f"at most {LONGEST_SPELLING} can be spelled: shorten it in the unit sheet"
                )
                yield Problem(place, message, "unit")
