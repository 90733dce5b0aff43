"""Every word of a reply is known to the recognisers.

A word that a recogniser does not know cannot be heard, and one that is not in the CMU Pronouncing
Dictionary is heard as some other word. So every word that the writer wants to hear is looked up in
the vocabulary of each recogniser at hand, and in the dictionary where it is installed
(``pip install 'gloveside[writer]'``). Source: common practice; the dictionary's own word list.

Passes::

    - step: see
      say: Is it sound, or damaged?
      ask: choice
      choices: [sound, damaged]

Fails::

    - step: see
      say: Is it sound, or damagd?
      ask: choice
      choices: [sound, damagd]
"""

from __future__ import annotations

import difflib
from collections.abc import Iterator, Mapping

from assistant.language.grammar import words_of
from assistant.procedure.model import Ask
from assistant.procedure.rules.replies import replies_of
from assistant.procedure.rules.rule import FileRule, Finding, Level, Settings
from assistant.procedure.rules.subject import FileSubject, Knows, Means

__all__ = ["RULE"]


def _check(subject: FileSubject, _settings: Settings) -> Iterator[Finding]:
    for step in subject.file.steps:
        if not isinstance(step.action, Ask):
            continue
        replies = replies_of(step.action, subject.means.book)
        for word in dict.fromkeys(word for reply in replies for word in words_of(reply)):
            for name, knows in _vocabularies(subject.means).items():
                if not knows(word):
                    message = (
                        f"the word '{word}' is not in the vocabulary of {name} and would not be "
                        f"heard: {_instead(word, subject.means)}"
                    )
                    yield Finding(step.place, message)


def _vocabularies(means: Means) -> Mapping[str, Knows]:
    if means.dictionary is None:
        return means.recognisers
    return {**means.recognisers, "the pronouncing dictionary": means.dictionary.__contains__}


def _instead(word: str, means: Means) -> str:
    """Words that sound or look alike and that every vocabulary has."""
    known = [
        one
        for one in means.dictionary or ()
        if one[:1] == word[:1] and all(knows(one) for knows in means.recognisers.values())
    ]
    close = difflib.get_close_matches(word, known, n=3)
    if not close:
        return "use a common word"
    return f"did you mean {' or '.join(repr(one) for one in close)}? Else use a common word"


RULE = FileRule("known-words", Level.WARNING, _check)
