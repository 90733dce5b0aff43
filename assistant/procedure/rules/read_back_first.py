"""What a direction is computed from is read back before the direction is spoken.

A contact that is misheard turns the direction round, and a shaft that is turned the wrong way ends
at the inverted change-over. So no way may lead to a step that speaks a computed direction, or has a
shaft turned by it, if one of the answers behind it was taken with ``read-back: no``. Source: the
three-part exchange, DOE-STD-1031-92 §4.1.2.3: say, read back, confirm; no action before.

It is told once for each such question, at the question, with the steps that use the direction.

Passes::

    - step: watch
      say: Which way did the {rotor.name} shaft turn?
      ask: rotation
      of: rotor
      into: seen
    - step: read
      say: Read contacts {rotor.contacts}.
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
      say: Turn the {rotor.name} shaft {advice.turn}.

Fails::

    - step: watch
      say: Which way did the {rotor.name} shaft turn?
      ask: rotation
      of: rotor
      into: seen
    - step: read
      say: Read contacts {rotor.contacts}.
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
      say: Turn the {rotor.name} shaft {advice.turn}.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator

from assistant.procedure.model import Ask, Compute, Reference
from assistant.procedure.names import kinds_of
from assistant.procedure.problems import Place
from assistant.procedure.program import Node, Program
from assistant.procedure.rules.rule import Finding, Level, ProgramRule, Settings
from assistant.procedure.rules.subject import Subject
from assistant.procedure.uses import assigned_by, uses_of
from assistant.procedure.values import Kind
from assistant.procedure.ways import Arrival, arrivals, told

__all__ = ["RULE"]

Unsure = frozenset[str]
"""Names whose value now is an answer that was not read back, or was computed from it."""

Resolve = Callable[[Node, Reference], str]

_NAMED = 3
"""Steps in a message; more would not be read."""


def _check(subject: Subject, _settings: Settings) -> Iterator[Finding]:
    program = subject.program
    kinds = kinds_of(program)

    def resolve(node: Node, reference: Reference) -> str:
        return node.scope.resolve(reference.path, kinds)[0]

    # A question of a part that is called more than once is one question in the file.
    found: dict[Place, list[Arrival[Unsure]]] = {}
    for direction in sorted(name for name, kind in kinds.items() if kind is Kind.ADVICE):
        behind = _behind(program, direction, resolve)
        for question in program.nodes.values():
            if behind & set(_taken_unsure(question)):
                users = _users(program, direction, question, behind, resolve)
                found.setdefault(question.step.place, []).extend(users)
    for place, using in found.items():
        if using:
            yield Finding(place, _message(using), min(map(told, using), key=len))


def _users(
    program: Program, direction: str, question: Node, behind: frozenset[str], resolve: Resolve
) -> Iterator[Arrival[Unsure]]:
    """The steps that use a direction which can come from the answer to a question, nearest first.

    Args:
        program: the procedure.
        direction: its name.
        question: the step that takes an answer and does not read it back.
        behind: the direction's name, and those from which it is computed.
        resolve: what a reference of a step means.
    """

    def left(node: Node, _outcome: str, unsure: Unsure) -> Unsure:
        return _left(node, unsure, question, behind, resolve)

    found: set[str] = set()
    nothing: Unsure = frozenset()
    for arrival in arrivals(program, nothing, left):
        node = arrival.node
        if direction not in arrival.state or node.name in found:
            continue
        if any(resolve(node, use.reference) == direction for use in uses_of(node)):
            found.add(node.name)
            yield arrival


def _message(users: Iterable[Arrival[Unsure]]) -> str:
    steps = list(dict.fromkeys(f"'{arrival.node.step.name}'" for arrival in users))
    more = len(steps) - _NAMED
    names = ", ".join(steps[:_NAMED]) + (f" and {more} more" if more > 0 else "")
    return (
        "this answer is not read back, and a direction comes from it, which is used at "
        f"{names}: remove this step's 'read-back: no'"
    )


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


def _left(
    node: Node, unsure: Unsure, question: Node, matters: frozenset[str], resolve: Resolve
) -> Unsure:
    given = {name for name, _ in assigned_by(node)} & matters
    match node.step.action:
        case Ask() if node is question:
            return unsure | given
        case Compute(inputs=inputs) if {resolve(node, one) for _, one in inputs} & unsure:
            return unsure | given
    return unsure - given


RULE = ProgramRule("read-back-first", Level.ERROR, _check)
