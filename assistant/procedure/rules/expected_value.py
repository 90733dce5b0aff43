"""A reading has something to be held against.

A reading that nothing is compared with finds nothing wrong. So what is read from the valve is kept
(``into:``) and then computed with, compared or recorded; a spelling says what it must equal
(``expect:``); and a number is believed only in a range that a slip of the tongue leaves: ``least:``
and ``most:`` not too far apart. Source: DOE-STD-1029-92 (CN1 1998), section 4: expected value, unit
and range; the width is common practice, no source. That a number has a unit and a range is seen to
when the file is loaded.

``widest`` is how often the range may hold its smallest number, or 1 where that is smaller.

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
      most: 90000
      into: width
      record: {width: width}

Fails::

    - step: tag
      say: Spell the tag on the valve.
      ask: spelling
"""

from __future__ import annotations

from collections.abc import Iterator

from assistant.procedure.model import Ask, AskKind, Branch, Call, Compute, Procedure, Step
from assistant.procedure.rules.rule import FileRule, Finding, Level, Settings
from assistant.procedure.rules.spoken import spoken_at
from assistant.procedure.rules.subject import FileSubject

__all__ = ["RULE"]

_READINGS = frozenset({AskKind.CONTACTS, AskKind.LAMPS, AskKind.ROTATION, AskKind.NUMBER})


def _check(subject: FileSubject, settings: Settings) -> Iterator[Finding]:
    used = set(_used(subject.file))
    for step in subject.file.steps:
        if isinstance(step.action, Ask):
            ask = step.action
            message = _too_wide(ask, settings.number("widest")) or _unheld(ask, used)
            if message:
                yield Finding(step.place, message)


def _too_wide(ask: Ask, widest: float) -> str | None:
    if ask.least is None or not isinstance(ask.most, float):
        return None
    if ask.most - ask.least <= widest * max(1.0, abs(ask.least)):
        return None
    return (
        f"from {ask.least:g} to {ask.most:g} almost any number is believed: narrow 'least:' and "
        "'most:' to what can be read here"
    )


def _unheld(ask: Ask, used: set[str]) -> str | None:
    if ask.kind is AskKind.SPELLING and ask.expect is None:
        return (
            "the spelling is compared with nothing: add 'expect:' with what it must equal, and "
            "'go: {match: …, mismatch: …}'"
        )
    if ask.kind in _READINGS and ask.into is None:
        return (
            "the answer is kept nowhere: add 'into:' with a name for it, and compare or record it"
        )
    if ask.kind in _READINGS and ask.into not in used:
        return (
            f"nothing is done with the answer '{ask.into}': compare it in a step with 'compute:', "
            f"or record it with 'record: {{{ask.into}: {ask.into}}}'"
        )
    return None


def _used(file: Procedure) -> Iterator[str]:
    """The names that are used in a file, and those that a part may give to its caller."""
    for step in file.steps:
        yield from _used_at(step)
        if file.is_part and isinstance(step.action, Ask) and step.action.into:
            yield step.action.into


def _used_at(step: Step) -> Iterator[str]:
    for record in step.records:
        yield record.value.path[0]
    for spoken in spoken_at(step):
        for reference in spoken.template.references:
            yield reference.path[0]
    for act in step.acts:
        for _, reference in act.arguments:
            yield reference.path[0]
    match step.action:
        case Compute(inputs=given) | Call(arguments=given):
            for _, reference in given:
                yield reference.path[0]
        case Branch(on=reference):
            yield reference.path[0]


RULE = FileRule("expected-value", Level.WARNING, _check, {"widest": 100.0})
