"""A verification names its kind and its role.

Whoever is asked must know it: the prompt of an ``ask: agreement`` says the role. And which kind of
verification it is must be stated, because it decides what the answer is worth: *concurrent*, where
the second person watches what cannot be checked afterwards, or *independent*, where another person
takes the same readings later and apart. A procedure or part in which somebody other than the
technician is asked says so in its ``title:`` or ``about:``. Source: DOE-STD-1036-93 for the kinds,
DOE-STD-1029-92 (CN1 1998), section 4, for stating them.

Whether the second person did watch, and had not seen the first answers, no file can show.

Passes::

    part: part
    title: Prove it dead
    revision: A
    about: With a concurrent check.
    steps:
      - step: dead
        say: Checker, did you see it proved dead?
        ask: agreement
        by: checker
        go: {agreed: return, not-agreed: return}

Fails::

    part: part
    title: Prove it dead
    revision: A
    about: With a concurrent check.
    steps:
      - step: dead
        say: Did you see it proved dead?
        ask: agreement
        by: checker
        go: {agreed: return, not-agreed: return}

Fails::

    part: part
    title: Prove it dead
    revision: A
    about: A sample.
    steps:
      - step: dead
        say: Checker, did you see it proved dead?
        ask: agreement
        by: checker
        go: {agreed: return, not-agreed: return}
"""

from __future__ import annotations

from collections.abc import Iterator

from assistant.procedure.model import Ask, AskKind
from assistant.procedure.rules.rule import FileRule, Finding, Level, Settings
from assistant.procedure.rules.sentences import phrase_in
from assistant.procedure.rules.subject import FileSubject

__all__ = ["RULE"]

_KINDS = ("concurrent", "concurrently", "independent", "independently")
_DOES_THE_WORK = "technician"


def _check(subject: FileSubject, _settings: Settings) -> Iterator[Finding]:
    file = subject.file
    stated = phrase_in(f"{file.title} {file.about}", _KINDS)
    for step in file.steps:
        match step.action:
            case Ask(kind=AskKind.AGREEMENT, by=str(role)):
                pass
            case _:
                continue
        if step.say is not None and phrase_in(step.say.plain, [role]) is None:
            message = f"nobody is told that the {role} is asked: begin with '{role.capitalize()}, '"
            yield Finding(step.say.place, message)
        if role != _DOES_THE_WORK and stated is None:
            message = (
                "this verification does not say of which kind it is: write in 'about:' whether it "
                "is concurrent or independent"
            )
            yield Finding(step.place, message)


RULE = FileRule("verification-kind", Level.WARNING, _check)
