"""A prompt says each word that answers it.

Who hears "Which way did it move?" says "toward closed", and is asked again: nobody can guess the
words that a procedure calls its choices. So each choice, and each word with a number, stands in
`say:` as it is to be said. Source: common practice.

What a warning or a caution says counts for nothing: it speaks of a danger and not of an answer. Nor
does a sentence that neither asks nor holds "say" or "or" ("Crank to the open stop."). Within one
that does, a word may still stand for something else; and what the step before says is not looked
at.

Passes::

    - step: jog
      say: Which way did it move; open, closed, or not at all?
      ask: choice
      choices: [open, closed, not-at-all]

Fails::

    - step: jog
      say: Which way did it move?
      ask: choice
      choices: [open, closed, not-at-all]
"""

from __future__ import annotations

from collections.abc import Iterator

from assistant.language.grammar import words_of
from assistant.procedure.model import Ask
from assistant.procedure.rules.replies import replies_of
from assistant.procedure.rules.rule import FileRule, Finding, Level, Settings
from assistant.procedure.rules.sentences import sentences_of
from assistant.procedure.rules.subject import FileSubject

__all__ = ["RULE"]


def _check(subject: FileSubject, _settings: Settings) -> Iterator[Finding]:
    for step in subject.file.steps:
        if not isinstance(step.action, Ask):
            continue
        told = _in_words(" ".join(_asking(step.say.plain)) if step.say else "")
        replies = replies_of(step.action, subject.means.book)
        missing = [f"'{reply}'" for reply in replies if _in_words(reply) not in told]
        if missing:
            place = step.place if step.say is None else step.say.place
            message = f"nobody can know that {' or '.join(missing)} may be answered here"
            yield Finding(place, f"{message}: say each choice in the prompt, in the same words")


def _asking(text: str) -> Iterator[str]:
    """The sentences that may offer an answer."""
    for sentence in sentences_of(text):
        if sentence.is_question or {"say", "or"} & set(words_of(sentence.text)):
            yield sentence.text


def _in_words(text: str) -> str:
    """The words of a text, with a space round each."""
    return f" {' '.join(words_of(text))} "


RULE = FileRule("words-told", Level.WARNING, _check)
