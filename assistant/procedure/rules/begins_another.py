"""No reply is the beginning of another.

Who pauses after "closed" in "closed too far" has said a whole reply, and it is taken. So of the
replies to one step none begins another, nor a command, nor is begun by one. Source: the timeouts of
VoiceXML 2.0 §2.3.1: an utterance that is complete ends sooner than one that is not.

Passes::

    - step: where
      say: Is it at the stop, or before it?
      ask: choice
      choices: [at-the-stop, before-it]

Fails::

    - step: where
      say: Is it closed, or closed too far?
      ask: choice
      choices: [closed, closed-too-far]
"""

from __future__ import annotations

import itertools
from collections.abc import Iterator

from assistant.language.commands import command_phrases
from assistant.procedure.model import Ask
from assistant.procedure.rules.replies import replies_of
from assistant.procedure.rules.rule import FileRule, Finding, Level, Settings
from assistant.procedure.rules.subject import FileSubject

__all__ = ["RULE"]


def _check(subject: FileSubject, _settings: Settings) -> Iterator[Finding]:
    commands = command_phrases(subject.means.book)
    for step in subject.file.steps:
        if not isinstance(step.action, Ask):
            continue
        replies = replies_of(step.action, subject.means.book)
        pairs = (*itertools.combinations(replies, 2), *itertools.product(replies, commands))
        for one, other in pairs:
            short, long = sorted((one, other), key=len)
            if long.startswith(f"{short} "):
                message = f"'{short}' is the beginning of '{long}', and would be taken at a pause"
                yield Finding(step.place, f"{message}: use words that begin differently")


RULE = FileRule("begins-another", Level.WARNING, _check)
