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

    directions = {name for name, kind in kinds.items() if kind is Kind.ADVICE}
    matters = _behind(program, directions, resolve)

    def left(node: Node, _outcome: str, unsure: Unsure) -> Unsure:
        return _left(node, unsure, matters, resolve)

    found: set[tuple[str, str]] = set()
    nothing: Unsure = frozenset()
    for arrival in arrivals(program, nothing, left):
        for use in uses_of(arrival.node):
            name = resolve(arrival.node, use.reference)
            key = (arrival.node.name, name)
            if name in directions & arrival.state and key not in found:
                found.add(key)
                message = (
                    f"'{use.reference}' is a direction that can come from an answer that was "
                    "not read back: remove 'read-back: no' from the questions on the way"
                )
                yield Finding(use.reference.place, message, told(arrival))


def _behind(program: Program, directions: set[str], resolve: Resolve) -> frozenset[str]:
    """The names from which directions are computed, and those from which these are."""
    computed = [
        ({name for name, _ in assigned_by(node)}, {resolve(node, one) for _, one in inputs})
        for node in program.nodes.values()
        if isinstance(node.step.action, Compute)
        for inputs in [node.step.action.inputs]
    ]
    behind = set(directions)
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
