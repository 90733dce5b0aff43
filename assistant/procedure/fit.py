"""Check that a unit has what a program asks of it."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping

from assistant.language.numbers import LARGEST
from assistant.language.spelling import LONGEST_SPELLING, letters_and_digits
from assistant.procedure.fields import nearest, quoted
from assistant.procedure.model import Ask, Branch, Call, Reference
from assistant.procedure.paths import reached_from
from assistant.procedure.problems import FileRefused, Problem
from assistant.procedure.program import Node, Program
from assistant.procedure.uses import uses_of
from assistant.procedure.values import FIELDS, Kind, RotorOfUnit
from assistant.trade.sheet import Sourced
from assistant.trade.unit import Unit

__all__ = ["check_fit", "needs_unit", "outcomes_on", "reached_on", "ways_on"]


def check_fit(program: Program, unit: Unit | None) -> None:
    """Refuse a program that asks for what the unit does not have.

    Only the steps that can be reached on this unit count: after ``branch: unit.rotor-count`` the
    steps for four rotors are not asked of a unit that has two.

    Args:
        program: the checked procedure.
        unit: the unit sheet, or None for a job that is on no unit.

    Raises:
        FileRefused: naming each rotor that is missing, what is too long to be spelled, and, without
            a unit, whatever needs one.
    """
    problems = [problem for node in reached_on(program, unit) for problem in _faults_of(node, unit)]
    if problems:
        raise FileRefused(problems if unit else problems[:1])


def needs_unit(program: Program) -> bool:
    """Whether a job by this program is on a unit."""
    return any(True for node in reached_on(program, None) for _ in _without_unit(node))


def _faults_of(node: Node, unit: Unit | None) -> Iterator[Problem]:
    if unit is None:
        yield from _without_unit(node)
    else:
        yield from _missing(node, unit)
        yield from _unspellable(node, unit)
        yield from _uncountable(node, unit)


def reached_on(program: Program, unit: Unit | None) -> Iterator[Node]:
    """The steps that can be reached on a unit, or on any, in the order of speech."""
    ways = {name: ways_on(node, unit) for name, node in program.nodes.items()}
    reached = reached_from([program.start], ways)
    return (node for name, node in program.nodes.items() if name in reached)


def ways_on(node: Node, unit: Unit | None) -> list[str]:
    """The nodes that can follow a step on a unit, or on any."""
    return [node.targets[outcome] for outcome in outcomes_on(node, unit)]


def outcomes_on(node: Node, unit: Unit | None) -> tuple[str, ...]:
    """The outcomes possible for a step on a unit: a branch that its sheet decides has one."""
    if unit is not None and isinstance(node.step.action, Branch):
        known = _known(node, node.step.action.on, unit)
        if known in node.targets:
            return (known,)
    return tuple(node.targets)


def _known(node: Node, on: Reference, unit: Unit) -> str:
    """What a branch finds on this unit; empty where that is not known before the job."""
    head, *fields = on.path
    if len(fields) == 1 and head == "unit":
        return str(FIELDS[Kind.UNIT][fields[0]].read(unit))
    rotor = node.scope.rotors.get(head)
    if len(fields) == 1 and rotor in {known.name for known in unit.rotors}:
        of = RotorOfUnit(unit, unit.rotor(str(rotor)))
        return str(FIELDS[Kind.ROTOR][fields[0]].read(of))
    return ""


def _without_unit(node: Node) -> Iterator[Problem]:
    for use in uses_of(node):
        head = use.reference.path[0]
        if head == "unit" or head in node.scope.rotors:
            message = f"'{use.reference}' needs a unit sheet: name one with --unit"
            yield Problem(use.reference.place, message, "unit")


def _missing(node: Node, unit: Unit) -> Iterator[Problem]:
    if not isinstance(node.step.action, Call):
        return
    rotors = [rotor.name for rotor in unit.rotors]
    passed = {whole.reference for whole in node.passes}
    for _, value in node.step.action.arguments:
        name = node.scope.rotor(str(value))
        if value not in passed and name not in rotors:
            message = f"{unit.tag} has no rotor {quoted(name)}; {nearest(name, rotors)}"
            yield Problem(value.place, message, "unit")


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


_COUNTED: Mapping[str, Callable[[Unit], Sourced | None]] = {
    "most-turns": lambda unit: unit.stroke_turns,
    "most-revolutions": lambda unit: unit.cycle_revolutions,
}
"""What is counted and said in answer to a question, by the bound of what is believed there."""


def _uncountable(node: Node, unit: Unit) -> Iterator[Problem]:
    match node.step.action:
        case Ask(most=Reference(path=("unit", bound), place=place)) if bound in _COUNTED:
            counted = _COUNTED[bound](unit)
            if counted is not None and counted.value > LARGEST:
                message = (
                    f"{counted.value:g} {counted.unit} of {unit.tag} are counted and said here; "
                    f"at most {LARGEST:g} can be said: set this unit by another procedure"
                )
                yield Problem(place, message, "unit")
