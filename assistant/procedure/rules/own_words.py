"""No sentence of a prompt is itself a reply.

A loudspeaker is heard by the microphone. The program does not listen while it speaks, but a room
rings on, and people say a question after it. So no whole sentence of a question may be a reply to
it. Source: common practice.

Passes::

    - step: look
      say: Is the gear sound, or damaged?
      ask: choice
      choices: [sound, damaged]

Fails::

    - step: look
      say: Look at the gear. Sound. Or is it damaged?
      ask: choice
      choices: [sound, damaged]
"""

from __future__ import annotations

from collections.abc import Iterator

from assistant.language.sentences import BETWEEN_SENTENCES
from assistant.procedure.model import Ask
from assistant.procedure.rules.replies import grammar_of
from assistant.procedure.rules.rule import FileRule, Finding, Level, Settings
from assistant.procedure.rules.subject import FileSubject

__all__ = ["RULE"]


def _check(subject: FileSubject, _settings: Settings) -> Iterator[Finding]:
    for step in subject.file.steps:
        if not isinstance(step.action, Ask) or step.say is None:
            continue
        replies = grammar_of(step.action, subject.means.book)
        for sentence in BETWEEN_SENTENCES.split(step.say.plain):
            if "{" not in sentence and replies.parse(sentence) is not None:
                message = f"'{sentence}' is itself a reply to this step and could be heard as one"
                yield Finding(step.say.place, f"{message}: put it into a longer sentence")


RULE = FileRule("own-words", Level.WARNING, _check)
