"""No vague words.

"Approximately", "properly" and "as required" leave it to the hearer what is meant, and everybody
means something else. Say the number and its range, what it looks like when it is right, or who
requires it. Source: DOE-STD-1029-92 (CN1 1998), section 4: no words that can be understood in
different ways; the list is common practice.

``words`` are the words and phrases; ``also-words`` adds to them. "About" and "around" are vague
only before a number. A word that is not listed is not seen, and one that is listed is told although
it may be exact where it stands ("some" of a counted few): write what is meant, or allow it with the
reason.

Passes::

    - step: crank
      say: Crank back one turn. Say done.
      ask: done

Fails::

    - step: crank
      say: Crank back approximately one turn. Say done.
      ask: done
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping

from assistant.procedure.rules.rule import FileRule, Finding, Level, Settings
from assistant.procedure.rules.sentences import phrase_in
from assistant.procedure.rules.spoken import spoken_in
from assistant.procedure.rules.subject import FileSubject

__all__ = ["RULE"]

_NUMBER = "say the number, and its range if it has one"
_WHICH = "say how many, or which"
_LOOKS = "say what is seen or felt when it is right"
_WHO = "say what requires it: 'If …, …'"
_OFTEN = "say how often, or after how long"
_REST = "name every one"

_REMEDIES: Mapping[str, str] = {
    **dict.fromkeys(
        ("approximately", "roughly", "nearly", "a little", "a bit", "slightly"), _NUMBER
    ),
    **dict.fromkeys(("some", "several", "a few", "various"), _WHICH),
    **dict.fromkeys(
        (
            *("properly", "proper", "adequate", "adequately", "appropriate", "appropriately"),
            *("suitable", "suitably", "sufficient", "sufficiently", "enough", "normal"),
            *("normally", "satisfactory", "reasonable", "reasonably", "acceptable", "okay"),
        ),
        _LOOKS,
    ),
    **dict.fromkeys(
        (
            *("as required", "if required", "as necessary", "if necessary", "as needed"),
            *("if needed", "as appropriate", "if appropriate", "if possible", "as applicable"),
            "where necessary",
        ),
        _WHO,
    ),
    **dict.fromkeys(("periodically", "frequently", "occasionally", "from time to time"), _OFTEN),
    **dict.fromkeys(("etc", "and so on", "or similar"), _REST),
}
_OWN = "say exactly what is meant"

_ABOUT = re.compile(
    r"\b(about|around)\s+(?:\{|\d|(?:one|two|three|four|five|six|seven|eight|nine|ten|twelve|"
    r"fifteen|twenty|thirty|forty|fifty|sixty|ninety|half|a (?:half|quarter|third|dozen))\b)",
    re.IGNORECASE,
)
"""Only before a number: what is told "about the bypass" is not vague."""

_TERMS = re.compile(r"\bnormally (?:open|closed|energi[sz]ed|de-?energi[sz]ed)\b", re.IGNORECASE)
"""Terms of the trade in which a word of the list means something exact."""


def _check(subject: FileSubject, settings: Settings) -> Iterator[Finding]:
    words = settings.words("words")
    for spoken in spoken_in(subject.file):
        text = _TERMS.sub("", spoken.text)
        about = _ABOUT.search(text)
        if word := phrase_in(text, words):
            remedy = _REMEDIES.get(word, _OWN)
            yield Finding(spoken.template.place, f"'{word}' is vague: {remedy}")
        elif about:
            yield Finding(spoken.template.place, f"'{about[1].lower()}' is vague: {_NUMBER}")


RULE = FileRule("vague-words", Level.WARNING, _check, {"words": tuple(_REMEDIES)})
