"""A reading that is compared was read since a shaft was last turned.

Where a shaft was turned, ``compare-readings`` says whether the rotor was left as it belongs. A
reading from before the turn says nothing of that, a reading compared with itself is always the
same, and where the contacts stood before the trip they do not stand past it, where a rotor has just
been set. So ``reading`` is the answer to an ``ask: contacts``, on every way given after the last
shaft was turned; ``expected`` is something else, and not the contacts before the trip while the
valve has not been moved since a shaft was turned. Source: common practice.

Where a part is given the reading, whoever calls it is looked at.

Passes::

    - step: read
      say: Read contacts {rotor.contacts}.
      ask: contacts
      of: rotor.contacts
      into: left
    - step: compare
      compute: compare-readings
      from: {expected: rotor.drawn, reading: left}
      go: {same: return, different: return}

Fails::

    - step: read
      say: Read contacts {rotor.contacts}.
      ask: contacts
      of: rotor.contacts
      into: left
    - step: compare
      compute: compare-readings
      from: {expected: left, reading: left}
      go: {same: return, different: return}

Fails::

    - step: compare
      compute: compare-readings
      from: {expected: rotor.drawn, reading: rotor.before}
      go: {same: return, different: return}

Fails::

    - step: watch
      say: Which way did the {rotor.name} shaft turn?
      ask: rotation
      of: rotor
      into: way
    - step: read
      say: Read contacts {rotor.contacts}.
      ask: contacts
      of: rotor.contacts
      into: found
    - step: turn
      caution: Never above two hundred turns a minute. The gears would break.
      say: Turn the {rotor.name} shaft {way}. Say done.
      does:
        - turn-shaft: {rotor: rotor, way: way}
      ask: done
    - step: compare
      compute: compare-readings
      from: {expected: rotor.drawn, reading: found}
      go: {same: return, different: return}
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from assistant.procedure.deeds import ACTS, ActKind, Fact
from assistant.procedure.model import Ask, AskKind, Compute, Reference
from assistant.procedure.names import kinds_of
from assistant.procedure.program import Node, Program
from assistant.procedure.rules.right_before import Back, last_before, ways_back
from assistant.procedure.rules.rule import Finding, Level, ProgramRule, Settings
from assistant.procedure.rules.subject import Subject
from assistant.procedure.uses import assigned_by
from assistant.procedure.values import Kind

__all__ = ["RULE"]


@dataclass(frozen=True, slots=True)
class _Compared:
    """A comparison.

    Args:
        node: its step.
        expected: as it was written.
        reading: as it was written.
        name: of the reading in the whole program; empty where it is no name of its own.
    """

    node: Node
    expected: Reference
    reading: Reference
    name: str


def _check(subject: Subject, _settings: Settings) -> Iterator[Finding]:
    program = subject.program
    kinds = kinds_of(program)
    back = ways_back(program)
    read = {
        name
        for node in program.nodes.values()
        if isinstance(node.step.action, Ask) and node.step.action.kind is AskKind.CONTACTS
        for name, _ in assigned_by(node)
    }
    given = set(program.procedure.papers) if subject.is_part else set()
    for one in _comparisons(program, kinds):
        if one.name not in given:
            for message in _wrong(one, program, back, read):
                yield Finding(one.reading.place, message)


def _comparisons(program: Program, kinds: Mapping[str, Kind]) -> Iterator[_Compared]:
    for node in program.nodes.values():
        match node.step.action:
            case Compute(computation="compare-readings", inputs=inputs):
                expected, reading = dict(inputs)["expected"], dict(inputs)["reading"]
                name, fields = node.scope.resolve(reading.path, kinds)
                yield _Compared(node, expected, reading, "" if fields else name)


def _wrong(one: _Compared, program: Program, back: Back, read: set[str]) -> Iterator[str]:
    if one.expected.path == one.reading.path:
        yield (
            f"'{one.reading}' is compared with itself: let 'expected' be what the drawing wants, "
            "as 'advice.leave' or 'rotor.drawn'"
        )
    elif one.name not in read:
        yield (
            f"'{one.reading}' was not read: let 'reading' be the answer to an 'ask: contacts', and "
            "'expected' what the drawing wants"
        )
    elif any(_is_stale(before, one) for before in _last_read(one, program, back)):
        yield (
            f"a way leads here on which a shaft was turned after '{one.reading}' was read: compare "
            "a reading that is asked for after the turn"
        )
    if _is_before(one) and any(map(_turns, _last_moved(one, program, back))):
        yield (
            f"'{one.expected}' are the contacts before the trip, and a shaft was just turned: "
            "compare with 'advice.leave' or 'rotor.drawn'"
        )


def _last_read(one: _Compared, program: Program, back: Back) -> tuple[Node, ...]:
    return last_before(one.node, program, back, lambda node: _turns(node) or _reads(node, one))


def _last_moved(one: _Compared, program: Program, back: Back) -> tuple[Node, ...]:
    return last_before(one.node, program, back, lambda node: _turns(node) or _moves(node))


def _is_stale(node: Node, one: _Compared) -> bool:
    """Whether a shaft is turned at a step that does not ask for the reading as well."""
    return _turns(node) and not _reads(node, one)


def _reads(node: Node, one: _Compared) -> bool:
    return one.name in {name for name, _ in assigned_by(node)}


def _turns(node: Node) -> bool:
    return node.step.does(ActKind.TURN_SHAFT)


def _moves(node: Node) -> bool:
    """Whether the valve is moved at a step."""
    return any(
        act.kind is ActKind.JOG or Fact.MID_TRAVEL in ACTS[act.kind].ends | ACTS[act.kind].makes
        for act in node.step.acts
    )


def _is_before(one: _Compared) -> bool:
    """Whether it is compared with how the contacts of a rotor stand before its trip."""
    head, *fields = one.expected.path
    return head in one.node.scope.rotors and fields == ["before"]


RULE = ProgramRule("compared-reading", Level.ERROR, _check)
