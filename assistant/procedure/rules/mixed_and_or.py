"""No "and" and "or" in one sentence.

"If the lamp is lit and the motor hums or smells" can be understood in two ways, and nobody can look
at it twice. Source: DOE-STD-1029-92 (CN1 1998), section 4: AND and OR are not mixed.

The "and" within a number ("two hundred and five", "one and a half") and between two numbers
("contacts one and two") does not count. Whether a sentence with both is clear all the same, no rule
can tell.

Passes::

    - step: mark
      say: Say mark and the turns at the change-over. Or none, after one cycle.
      ask: mark

Fails::

    - step: mark
      say: Say mark and the turns at the change-over, or none after one cycle.
      ask: mark
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from assistant.procedure.rules.rule import FileRule, Finding, Level, Settings
from assistant.procedure.rules.sentences import sentences_of
from assistant.procedure.rules.spoken import spoken_in
from assistant.procedure.rules.subject import FileSubject

__all__ = ["RULE"]

_IN_NUMBERS = re.compile(
    r"\b(?:hundred|thousand) and\b|\band (?:a |one )?(?:half|quarter)\b|\band three quarters\b",
    re.IGNORECASE,
)
_FIRST_TWENTY = "|".join(
    (
        *("one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten"),
        *("eleven", "twelve", "thirteen", "fourteen", "fifteen", "sixteen", "seventeen"),
        *("eighteen", "nineteen", "twenty", r"\d+"),
    )
)
_LISTED = re.compile(rf"\b(?:{_FIRST_TWENTY}) (?:and|or) (?:{_FIRST_TWENTY})\b", re.IGNORECASE)
_AND, _OR = re.compile(r"\band\b", re.IGNORECASE), re.compile(r"\bor\b", re.IGNORECASE)


def _check(subject: FileSubject, _settings: Settings) -> Iterator[Finding]:
    for spoken in spoken_in(subject.file):
        for sentence in sentences_of(spoken.text):
            text = _LISTED.sub("", _IN_NUMBERS.sub("", sentence.text))
            if _AND.search(text) and _OR.search(text):
                message = (
                    "'and' and 'or' in one sentence can be understood in two ways: make a "
                    "sentence of each"
                )
                yield Finding(spoken.template.place, message)


RULE = FileRule("mixed-and-or", Level.WARNING, _check)
