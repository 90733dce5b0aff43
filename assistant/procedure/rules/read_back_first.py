"""What a direction is computed from is read back before the direction is spoken.

A contact that is misheard turns the direction round, and a shaft that is turned the wrong way ends
at the inverted change-over. So no way may lead to a step that speaks a computed direction, or has a
shaft turned by it, if one of the answers behind it was taken with ``read-back: no``. Source: the
three-part exchange, DOE-STD-1031-92 §4.1.2.3: say, read back, confirm; no action before.

Passes::

    - step: watch
      say: Which way did the shaft turn?
      ask: rotation
      of: rotor
      into: seen
    - step: read
      say: Read the contacts.
      ask: contacts
      of: rotor.contacts
      into: found
    - step: direction
      compute: shaft-direction
      from: {rotor: rotor, seen: seen, reading: found}
      into: advice
      go: {already: tell, not-yet: tell, contradiction: again}
    - step: again
      hold: The readings contradict each other.
      go: read
    - step: tell
      say: Turn it {advice.turn}.

Fails::

    - step: watch
      say: Which way did the shaft turn?
      ask: rotation
      of: rotor
      into: seen
    - step: read
      say: Read the contacts.
      ask: contacts
      of: rotor.contacts
      into: found
      read-back: no
    - step: direction
      compute: shaft-direction
      from: {rotor: rotor, seen: seen, reading: found}
      into: advice
      go: {already: tell, not-yet: tell, contradiction: again}
    - step: again
      hold: The readings contradict each other.
      go: read
    - step: tell
      say: Turn it {advice.turn}.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator

from assistant.procedure.model import Ask, Compute, Reference
from assistant.procedure.names import kinds_of
from assistant.procedure.program import Node, Program
from assistant.procedure.rules.rule import Finding, Level, ProgramRule, Settings
from assistant.procedure.rules.subject import Subject
from assistant.procedure.uses import assigned_by, uses_of
from assistant.procedure.values import Kind
from assistant.procedure.ways import arrivals, told

__all__ = ["RULE"]

Unsure = frozenset[str]
"""Names whose value now was not read back, or was computed from one that was not."""

Resolve = Callable[[Node, Reference], str]


def _check(subject: Subject, _settings: Settings) -> Iterator[Finding]:
    program = subject.program
    kinds = kinds_of(program)

    def resolve(node: Node, reference: Reference) -> str:
        return node.scope.resolve(reference.path, kinds)[0]

    unsure = {name for node in program.nodes.values() for name in _taken_unsure(node)}
    for direction in sorted(name for name, kind in kinds.items() if kind is Kind.ADVICE):
        # Each on its own: what is unsure of one and what of another would make too many states.
        behind = _behind(program, direction, resolve)
        if behind & unsure:
            yield from _spoken_unsure(program, direction, behind, resolve)


def _spoken_unsure(
    program: Program, direction: str, behind: frozenset[str], resolve: Resolve
) -> Iterator[Finding]:
    def left(node: Node, _outcome: str, unsure: Unsure) -> Unsure:
        return _left(node, unsure, behind, resolve)

    found: set[str] = set()
    nothing: Unsure = frozenset()
    for arrival in arrivals(program, nothing, left):
        if direction not in arrival.state or arrival.node.name in found:
            continue
        for use in uses_of(arrival.node):
            if resolve(arrival.node, use.reference) == direction:
                found.add(arrival.node.name)
                message = (
                    f"'{use.reference}' is a direction that can come from an answer that was "
                    "not read back: remove 'read-back: no' from the questions on the way"
                )
                yield Finding(use.reference.place, message, told(arrival))
                break


def _taken_unsure(node: Node) -> Iterator[str]:
    """The name that a step gives an answer which was not read back."""
    match node.step.action:
        case Ask(read_back=False, into=str(into)):
            yield node.scope.absolute(into)


def _behind(program: Program, direction: str, resolve: Resolve) -> frozenset[str]:
    """A direction, the names from which it is computed, and those from which these are."""
    computed = [
        ({name for name, _ in assigned_by(node)}, {resolve(node, one) for _, one in inputs})
        for node in program.nodes.values()
        if isinstance(node.step.action, Compute)
        for inputs in [node.step.action.inputs]
    ]
    behind = {direction}
    while True:
        more = behind.union(*(given for results, given in computed if results & behind))
        if more == behind:
            return frozenset(behind)
        behind = more


def _left(node: Node, unsure: Unsure, matters: frozenset[str], resolve: Resolve) -> Unsure:
    given = {name for name, _ in assigned_by(node)} & matters
    match node.step.action:
        case Ask(read_back=False, into=str()):
            return unsure | given
        case Compute(inputs=inputs) if {resolve(node, one) for _, one in inputs} & unsure:
            return unsure | given
    return unsure - given


RULE = ProgramRule("read-back-first", Level.ERROR, _check)
