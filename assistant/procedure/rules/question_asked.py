"""What sounds like a question is asked, and an answer is taken.

A step without ``ask:`` goes on at once, into the next question. Whoever answers what was spoken is
then taken to answer that one: a "yes" to "Is the pipe clean?" counts for "Is it tight?". So a step
whose `say:` has a question asks it. Source: common practice.

A question that stands in a value (``{reason}``) is not seen, nor one without its mark.

Passes::

    - step: pipe
      say: Is the pipe clean?
      ask: yes-no
      go: {"yes": return, "no": dirty}
    - step: dirty
      hold: Blow out the pipe.
      go: pipe

Fails::

    - step: pipe
      say: Is the pipe clean?
    - step: tight
      say: Look at the bowl. Is it tight?
      ask: yes-no
      go: {"yes": return, "no": leaking}
    - step: leaking
      hold: Screw the bowl tight.
      go: tight
"""

from __future__ import annotations

from collections.abc import Iterator

from assistant.procedure.fields import quoted
from assistant.procedure.model import Ask
from assistant.procedure.rules.rule import FileRule, Finding, Level, Settings
from assistant.procedure.rules.sentences import sentences_of
from assistant.procedure.rules.subject import FileSubject

__all__ = ["RULE"]


def _check(subject: FileSubject, _settings: Settings) -> Iterator[Finding]:
    for step in subject.file.steps:
        if step.say is None or isinstance(step.action, Ask):
            continue
        for sentence in sentences_of(step.say.plain):
            if sentence.is_question:
                message = (
                    f"{quoted(sentence.text)} is spoken and not asked: add 'ask:', in a step of "
                    "its own where this one does something else, or say it without a question"
                )
                yield Finding(step.say.place, message)


RULE = FileRule("question-asked", Level.WARNING, _check)
