"""No two replies to one step sound alike.

Two replies of which one is taken for the other ruin a setting: a misheard "five" for "nine". Their
pronunciations in the CMU Pronouncing Dictionary are compared phone by phone
(`assistant.language.phone_distance`), with each other and with the words that may be said at every
step ("hold", "go back", …). ``least`` is the smallest distance that is let pass; what was measured
of it stands in that module. The dictionary is needed: ``pip install 'gloveside[writer]'``.
Source: the pronunciations; the distance against confusions measured by this project's benchmark.

Passes::

    - step: rod
      say: Is the rod engaged, or free?
      ask: choice
      choices: [engaged, free]

Fails::

    - step: side
      say: Is it on the five side, or the fife side?
      ask: choice
      choices: [five, fife]
"""

from __future__ import annotations

import itertools
from collections.abc import Iterator

from assistant.language.phone_distance import Dictionary, UnknownWordError, phrase_distance
from assistant.procedure.model import Ask
from assistant.procedure.rules.replies import fixed_replies, replies_of
from assistant.procedure.rules.rule import FileRule, Finding, Level, Settings
from assistant.procedure.rules.subject import FileSubject

__all__ = ["RULE"]

LEAST = 1.0


def _check(subject: FileSubject, settings: Settings) -> Iterator[Finding]:
    dictionary = subject.means.dictionary
    if dictionary is None:
        return
    for step in subject.file.steps:
        if not isinstance(step.action, Ask):
            continue
        replies = replies_of(step.action, subject.means.book)
        others = tuple(fixed_replies(step.action, subject.means.book))
        pairs = (*itertools.combinations(replies, 2), *itertools.product(replies, others))
        for one, other in pairs:
            if _apart(one, other, dictionary) < settings.number("least"):
                message = f"'{one}' sounds too much like '{other}', which may be said here too"
                yield Finding(step.place, f"{message}: use another word")


def _apart(one: str, other: str, dictionary: Dictionary) -> float:
    try:
        return phrase_distance(one, other, dictionary)
    except UnknownWordError:
        return float("inf")  # that is another rule's matter


RULE = FileRule("sound-alike", Level.WARNING, _check, {"least": LEAST})
