"""An answer of yes or no decides something, proves something, or is kept.

Where both answers lead to the same step and neither is kept, "no" is heard and the job goes on as
after "yes": a leak that was told is nowhere to be found. What only has to be done is asked with
``ask: done``. Source: common practice.

An answer that is kept (``into:``) is taken to be used.

Passes::

    - step: tight
      say: Listen at the bowl. Is it tight?
      ask: yes-no
      go: {"yes": return, "no": leaking}
    - step: leaking
      hold: Screw the bowl tight.
      go: tight

Fails::

    - step: tight
      say: Listen at the bowl. Is it tight?
      ask: yes-no
      go: {"yes": lamp, "no": lamp}
    - step: lamp
      say: Hang a lamp over the housing. Say done.
      ask: done
"""

from __future__ import annotations

from collections.abc import Iterator

from assistant.procedure.model import Ask, AskKind, Procedure, Step
from assistant.procedure.rules.rule import FileRule, Finding, Level, Settings
from assistant.procedure.rules.subject import FileSubject

__all__ = ["RULE"]


def _check(subject: FileSubject, _settings: Settings) -> Iterator[Finding]:
    for index, step in enumerate(subject.file.steps):
        match step.action:
            case Ask(kind=AskKind.YES_NO, into=None) if not step.proves:
                ways = _ways(subject.file, index, step)
                if len(ways) == 1:
                    yield Finding(step.place, _message(step.name, *ways))


def _ways(file: Procedure, index: int, step: Step) -> set[str]:
    """Where the answers lead, the step below by its name."""
    below = file.steps[index + 1].name if index + 1 < len(file.steps) else "return"
    return {below if target.name == "next" else target.name for target in step.go.values()}


def _message(step: str, way: str) -> str:
    return (
        f"yes and no to '{step}' both lead to '{way}', and the answer is not kept: let 'no' go to "
        "a hold that says what to do, keep it with 'into:' and 'record:', or write 'ask: done'"
    )


RULE = FileRule("answer-counts", Level.WARNING, _check)
