"""A shaft is turned by a direction that still holds.

A direction is computed from contacts as they were read. Once the valve was moved, or the shaft
turned the way that was told, they may stand otherwise: turned on by the same direction the shaft
goes past the change-over, to the inverted one. So after each of these the contacts are read and the
direction is computed anew. Turning back, the other way, onto the change-over that was just passed
is allowed once (``advice.turn``, then ``advice.back``). Source: common practice.

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
      go: {already: turn, not-yet: turn, contradiction: again}
    - step: again
      hold: The readings contradict each other.
      go: read
    - step: turn
      caution: Never above two hundred turns a minute. The gears would break.
      say: Turn the {rotor.name} shaft {advice.turn}. Say done.
      does:
        - turn-shaft: {rotor: rotor, way: advice.turn}
      ask: done

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
    - step: direction
      compute: shaft-direction
      from: {rotor: rotor, seen: seen, reading: found}
      into: advice
      go: {already: turn, not-yet: turn, contradiction: again}
    - step: again
      hold: The readings contradict each other.
      go: read
    - step: turn
      caution: Never above two hundred turns a minute. The gears would break.
      say: Turn the {rotor.name} shaft {advice.turn}. Are you there?
      does:
        - turn-shaft: {rotor: rotor, way: advice.turn}
      ask: yes-no
      go: {"yes": return, "no": on}
    - step: on
      repeat: turn
      at-most: 2
      otherwise: again
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from assistant.procedure.deeds import ACTS, ActKind, Fact
from assistant.procedure.model import Compute
from assistant.procedure.program import Node, Program
from assistant.procedure.rules.directions import Directions
from assistant.procedure.rules.rule import Finding, Level, ProgramRule, Settings
from assistant.procedure.rules.subject import Subject
from assistant.procedure.uses import assigned_by
from assistant.procedure.ways import Arrival, arrivals, told

__all__ = ["RULE"]


@dataclass(frozen=True, slots=True)
class _Course:
    """What became of a direction since it was computed.

    Args:
        old: of the readings from which it is computed, those after which something was moved.
        is_old: whether it was computed from such a reading, or something was moved since.
        turned: the fields of it by which the shaft was turned.
    """

    old: frozenset[str] = frozenset()
    is_old: bool = False
    turned: frozenset[str] = frozenset()


def _check(subject: Subject, _settings: Settings) -> Iterator[Finding]:
    directions = Directions(subject.program)
    for name in sorted(directions.computed):
        yield from _stale(subject.program, directions, name)


def _stale(program: Program, directions: Directions, name: str) -> Iterator[Finding]:
    readings = _readings_behind(program, directions, name)

    def left(node: Node, _outcome: str, course: _Course) -> _Course:
        return _left(node, course, directions, name, readings)

    found: set[str] = set()
    for arrival in arrivals(program, _Course(), left):
        for turn in directions.turns(arrival.node):
            is_stale = arrival.state.is_old or turn.field in arrival.state.turned
            if turn.name == name and is_stale and arrival.node.name not in found:
                found.add(arrival.node.name)
                yield Finding(turn.written.place, _message(turn.field, arrival), told(arrival))


def _message(way: str, arrival: Arrival[_Course]) -> str:
    moved = "the shaft was turned by it" if way in arrival.state.turned else "something was moved"
    return (
        f"a shaft can be turned by a direction that holds no more: {moved} since the contacts "
        "were read; let each way read them and compute the direction anew"
    )


def _readings_behind(program: Program, directions: Directions, name: str) -> frozenset[str]:
    """The names of the readings from which a direction is computed."""
    return frozenset(
        directions.resolve(node, reference)
        for node in program.nodes.values()
        if name in {given for given, _ in assigned_by(node)}
        if isinstance(node.step.action, Compute)
        for key, reference in node.step.action.inputs
        if key == "reading"
    )


def _left(
    node: Node, course: _Course, directions: Directions, name: str, readings: frozenset[str]
) -> _Course:
    turns = directions.turns(node)
    if turns or any(_moves(act.kind) for act in node.step.acts):
        by_it = {turn.field for turn in turns if turn.name == name}
        course = _Course(
            old=readings,
            is_old=course.is_old or not by_it,
            turned=course.turned | by_it,
        )
    given = {one for one, _ in assigned_by(node)}
    match node.step.action:
        case Compute(inputs=inputs) if name in given:
            behind = {directions.resolve(node, one) for _, one in inputs}
            return replace(course, is_old=bool(behind & course.old), turned=frozenset())
    return replace(course, old=course.old - given)


def _moves(act: ActKind) -> bool:
    """Whether the valve is moved by an act."""
    return act is ActKind.JOG or Fact.MID_TRAVEL in ACTS[act].ends | ACTS[act].makes


RULE = ProgramRule("fresh-direction", Level.ERROR, _check)
