"""Few repeats, and a word at their end.

Who is asked the same thing a sixth time says anything to get on. And where the repeats are used up
the job must not go on in silence as if all were well: ``otherwise:`` leads to a hold, to a step
that says something, or back to the procedure that called the part. Source: common practice; that
every loop has a limit, DOE-STD-1029-92 (CN1 1998), section 4, is seen to when the file is loaded.

``most`` is the largest ``at-most:`` that is taken without a warning. A loop in which a value is
built up round by round (a computation is given the value that it gives) may have more.

Passes::

    - step: read
      say: Read contacts {rotor.contacts}.
      ask: contacts
      of: rotor.contacts
      into: reading
    - step: right
      compute: prove-sense
      from: {rotor: rotor, reading: reading}
      go: {drawn: return, inverted: again, unclear: again}
    - step: again
      repeat: read
      at-most: 2
      otherwise: stuck
    - step: stuck
      hold: The readings are not as drawn. Find out why.
      go: read

Fails::

    - step: read
      say: Read contacts {rotor.contacts}.
      ask: contacts
      of: rotor.contacts
      into: reading
    - step: right
      compute: prove-sense
      from: {rotor: rotor, reading: reading}
      go: {drawn: return, inverted: again, unclear: again}
    - step: again
      repeat: read
      at-most: 10
      otherwise: stuck
    - step: stuck
      hold: The readings are not as drawn. Find out why.
      go: read
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from assistant.procedure.model import RETURN_WITH, Call, Compute, Hold, Procedure, Repeat, Step
from assistant.procedure.rules.rule import FileRule, Finding, Level, Settings
from assistant.procedure.rules.spoken import spoken_at
from assistant.procedure.rules.subject import FileSubject

__all__ = ["RULE"]


def _check(subject: FileSubject, settings: Settings) -> Iterator[Finding]:
    most = settings.number("most")
    steps = {step.name: step for step in subject.file.steps}
    for step in subject.file.steps:
        repeat = step.action
        if not isinstance(repeat, Repeat):
            continue
        if repeat.at_most > most and not _builds_up(subject.file, repeat, step):
            message = f"{repeat.at_most} repeats are too many: write 'at-most: {most:g}' or less"
            yield Finding(step.place, message)
        if _is_silent(repeat.otherwise.name, steps, step, subject.file):
            message = (
                f"when the repeats are used up, '{repeat.otherwise.name}' says nothing: let "
                "'otherwise:' lead to a hold, or to a step that says what is done now"
            )
            yield Finding(repeat.otherwise.place, message)


def _builds_up(file: Procedure, repeat: Repeat, end: Step) -> bool:
    """Whether a computation between the ends of a loop, as written, goes on with its value."""
    names = [step.name for step in file.steps]
    if repeat.target.name not in names:
        return False
    within = file.steps[names.index(repeat.target.name) : names.index(end.name)]
    return any(
        isinstance(step.action, Compute)
        and step.action.into in {str(reference) for _, reference in step.action.inputs}
        for step in within
    )


def _is_silent(name: str, steps: Mapping[str, Step], step: Step, file: Procedure) -> bool:
    if name == "next":
        following = file.steps.index(step) + 1
        return following < len(file.steps) and _says_nothing(file.steps[following])
    if name == "return" or name.startswith(RETURN_WITH) or name not in steps:
        return False
    return _says_nothing(steps[name]) and not _decides(steps[name], steps)


def _says_nothing(step: Step) -> bool:
    return not any(spoken_at(step)) and not isinstance(step.action, Call)


def _decides(step: Step, steps: Mapping[str, Step]) -> bool:
    """Whether a step only tells apart which hold it is."""
    ends = [steps.get(target.name) for target in step.go.values()]
    return len(ends) > 1 and all(end is not None and isinstance(end.action, Hold) for end in ends)


RULE = FileRule("few-repeats", Level.WARNING, _check, {"most": 5.0})
