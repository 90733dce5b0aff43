"""What is timed begins at the mark right before an act, and ends where it is done.

From ``begun`` to ``stopped`` a shaft was turned, or the valve ran, or the time says nothing: taken
from an earlier answer every speed comes out too low, and with the two exchanged there is none, so
that a shaft that was turned far too fast goes on as ``unknown``. So for ``shaft-speed`` and
``stroke-time``, on every way, ``begun`` is the ``when:`` of a ``mark`` question right before the
step that has the shaft turned or the stroke run; ``stopped`` is the ``when:`` of that step, and
``turns`` its ``into:``. Source: common practice; rpm = 60 x revolutions / seconds, arithmetic.

Where a part is given the moments, whoever calls it is looked at.

Passes::

    - step: watch
      say: Which way did the {rotor.name} shaft turn?
      ask: rotation
      of: rotor
      into: way
    - step: begin
      caution: Never above two hundred turns a minute. The gears would break.
      say: Say mark as you begin to turn the {rotor.name} shaft {way}.
      ask: mark
      when: begun
    - step: turn
      say: Turn the {rotor.name} shaft {way}. How many revolutions?
      does:
        - turn-shaft: {rotor: rotor, way: way}
      ask: number
      unit: revolutions
      least: 0
      most: unit.most-revolutions
      into: count
      when: stopped
    - step: speed
      compute: shaft-speed
      from: {turns: count, begun: begun, stopped: stopped}
      into: rpm
      go: {within: return, too-fast: return, unknown: return}

Fails::

    - step: watch
      say: Which way did the {rotor.name} shaft turn?
      ask: rotation
      of: rotor
      into: way
    - step: begin
      caution: Never above two hundred turns a minute. The gears would break.
      say: Say mark as you begin to turn the {rotor.name} shaft {way}.
      ask: mark
      when: begun
    - step: turn
      say: Turn the {rotor.name} shaft {way}. How many revolutions?
      does:
        - turn-shaft: {rotor: rotor, way: way}
      ask: number
      unit: revolutions
      least: 0
      most: unit.most-revolutions
      into: count
      when: stopped
    - step: speed
      compute: shaft-speed
      from: {turns: count, begun: stopped, stopped: begun}
      into: rpm
      go: {within: return, too-fast: return, unknown: return}
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from assistant.procedure.deeds import ActKind
from assistant.procedure.model import Ask, Compute
from assistant.procedure.names import kinds_of
from assistant.procedure.program import Node, Program
from assistant.procedure.rules.right_before import (
    Back,
    announces,
    is_stop,
    last_before,
    ways_back,
)
from assistant.procedure.rules.rule import Finding, Level, ProgramRule, Settings
from assistant.procedure.rules.subject import Subject
from assistant.procedure.uses import assigned_by

__all__ = ["RULE"]

_TIMES: Mapping[str, ActKind] = {
    "shaft-speed": ActKind.TURN_SHAFT,
    "stroke-time": ActKind.STROKE,
}
"""What each computation times."""


@dataclass(frozen=True, slots=True)
class _Timed:
    """What a computation is given, by the names in the whole program.

    Args:
        act: what is timed.
        names: of ``begun``, ``stopped`` and, where there is one, ``turns``; empty for what no step
            gives a value.
        written: the same as they were written.
    """

    act: ActKind
    names: Mapping[str, str]
    written: Mapping[str, str]


def _check(subject: Subject, _settings: Settings) -> Iterator[Finding]:
    program = subject.program
    kinds = kinds_of(program)
    back = ways_back(program)
    for node in program.nodes.values():
        match node.step.action:
            case Compute(computation=name, inputs=inputs) if name in _TIMES:
                given = {key: one for key, one in inputs if key in ("begun", "stopped", "turns")}
                names = {
                    key: "" if fields else whole
                    for key, one in given.items()
                    for whole, fields in (node.scope.resolve(one.path, kinds),)
                }
                if subject.is_part and set(names.values()) & program.procedure.papers.keys():
                    continue
                written = {key: str(one) for key, one in given.items()}
                timed = _Timed(_TIMES[name], names, written)
                for message in dict.fromkeys(_mistimed(node, program, back, timed)):
                    yield Finding(node.step.action.place, message)


def _mistimed(node: Node, program: Program, back: Back, timed: _Timed) -> Iterator[str]:
    """What is wrong on some way to a step that computes a time or a speed."""
    wanted = set(timed.names.values())

    def gives(one: Node) -> bool:
        return _does(one, timed) or bool(wanted & {name for name, _ in assigned_by(one)})

    for ended in last_before(node, program, back, gives):
        if not _does(ended, timed):
            yield (
                f"a way comes here from step '{ended.step.name}', which has no '{timed.act}' done: "
                f"{_remedy(timed)}"
            )
            continue
        for key, kept in (("stopped", _when(ended)), ("turns", _into(ended))):
            if key in timed.names and timed.names[key] != kept:
                yield (
                    f"'{key}' is '{timed.written[key]}', which is not the answer of step "
                    f"'{ended.step.name}', where '{timed.act}' is done: {_remedy(timed)}"
                )
        for begun in last_before(ended, program, back, is_stop):
            if not announces(begun.step) or _when(begun) != timed.names["begun"]:
                yield (
                    f"'begun' is '{timed.written['begun']}', and a way to step "
                    f"'{ended.step.name}' comes from '{begun.step.name}': {_remedy(timed)}"
                )


def _does(node: Node, timed: _Timed) -> bool:
    return any(act.kind is timed.act for act in node.step.acts)


def _when(node: Node) -> str | None:
    match node.step.action:
        case Ask(when=str(when)):
            return node.scope.absolute(when)
    return None


def _into(node: Node) -> str | None:
    match node.step.action:
        case Ask(into=str(into)):
            return node.scope.absolute(into)
    return None


def _remedy(timed: _Timed) -> str:
    turns = ", 'turns' its 'into:'" if "turns" in timed.names else ""
    return (
        f"let 'begun' be the 'when:' of an 'ask: mark' right before the step with '{timed.act}', "
        f"and 'stopped' the 'when:' of that step{turns}"
    )


RULE = ProgramRule("timed-act", Level.ERROR, _check)
