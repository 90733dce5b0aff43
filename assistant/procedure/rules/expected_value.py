"""A reading has something to be held against.

A reading that nothing is compared with finds nothing wrong. So what is read from the valve is kept
(``into:``) and then computed with, compared or recorded; a spelling says what it must equal
(``expect:``); and a number is believed only in a range that a slip of the tongue leaves: ``least:``
and ``most:`` not too far apart. Source: DOE-STD-1029-92 (CN1 1998), section 4: expected value, unit
and range; the width is common practice, no source. That a number has a unit and a range is seen to
when the file is loaded.

``widest`` is how often the range may hold its smallest number, or 1 where that is smaller. What a
part asks may be used by whoever calls it, so there only the range and the spelling are looked at;
and that a value is used does not show that it is compared with the right one.

Passes::

    - step: width
      say: How many millimetres?
      ask: number
      unit: millimetres
      least: 4
      most: 40
      into: width
      record: {width: width}

Fails::

    - step: width
      say: How many millimetres?
      ask: number
      unit: millimetres
      least: 1
      most: 999
      into: width
      record: {width: width}

Fails::

    - step: tag
      say: Spell the tag on the valve.
      ask: spelling
"""

from __future__ import annotations

from collections.abc import Iterator

from assistant.procedure.model import Ask, AskKind
from assistant.procedure.names import kinds_of
from assistant.procedure.rules.rule import Finding, Level, ProgramRule, Settings
from assistant.procedure.rules.spoken import each_once
from assistant.procedure.rules.subject import Subject
from assistant.procedure.uses import uses_of

__all__ = ["RULE"]

_READINGS = frozenset({AskKind.CONTACTS, AskKind.LAMPS, AskKind.ROTATION, AskKind.NUMBER})


def _check(subject: Subject, settings: Settings) -> Iterator[Finding]:
    program = subject.program
    kinds = kinds_of(program)
    used = {
        node.scope.resolve(use.reference.path, kinds)[0]
        for node in program.nodes.values()
        for use in uses_of(node)
    }
    for node in each_once(program):
        if isinstance(node.step.action, Ask):
            ask = node.step.action
            message = _too_wide(ask, settings.number("widest")) or _unheld(ask)
            is_own = node.step.place.file == program.procedure.place.file
            if message is None and is_own and ask.kind in _READINGS and ask.into:
                message = _unused(ask.into) if node.scope.absolute(ask.into) not in used else None
            if message is not None:
                yield Finding(node.step.place, message)


def _too_wide(ask: Ask, widest: float) -> str | None:
    if ask.least is None or not isinstance(ask.most, float):
        return None
    if ask.most - ask.least <= widest * max(1.0, abs(ask.least)):
        return None
    return (
        f"from {ask.least:g} to {ask.most:g} almost any number is believed: narrow 'least:' and "
        "'most:' to what can be read here"
    )


def _unheld(ask: Ask) -> str | None:
    if ask.kind is AskKind.SPELLING and ask.expect is None:
        return (
            "the spelling is compared with nothing: add 'expect:' with what it must equal, and "
            "'go: {match: …, mismatch: …}'"
        )
    if ask.kind in _READINGS and ask.into is None:
        return (
            "the answer is kept nowhere: add 'into:' with a name for it, and compare or record it"
        )
    return None


def _unused(name: str) -> str:
    return (
        f"nothing is done with the answer '{name}': compare it in a step with 'compute:', or "
        f"record it with 'record: {{{name}: {name}}}'"
    )


RULE = ProgramRule("expected-value", Level.WARNING, _check, {"widest": 900.0})
