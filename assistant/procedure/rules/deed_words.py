"""In which words a prompt has something done, or asks for what proves something.

All of it is common practice, no source: it is how people at a valve speak. Each entry has what one
expects to hear, and what says the contrary; both are patterns without regard to case.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from assistant.procedure.deeds import ActKind, Fact

__all__ = ["ACT_WORDS", "FACT_WORDS", "Words", "said_against"]


@dataclass(frozen=True, slots=True)
class Words:
    """How something is said.

    Args:
        told: what one of is expected in the prompt.
        against: what says the contrary.
    """

    told: re.Pattern[str]
    against: re.Pattern[str]


def _words(told: str, against: str) -> Words:
    return Words(re.compile(told, re.IGNORECASE), re.compile(against, re.IGNORECASE))


_LOCKS = r"(?<!the )(?<!your )(?<!a )\block\s+(?:it|them|off|out|both|each|every|all)\b"
_LOCKED = rf"{_LOCKS}|\bput\b[^.,;?!]*\blocks?\b"
_OFF = (
    rf"\bde-?energi[sz]e|\bisolate\b|{_LOCKED}"
    r"|\b(?:switch|turn|shut)\b(?:(?!\bon\b)[^.,;?!])*\boff\b"
)
_ON = (
    r"(?<!de-)\benergi[sz]e\b|\bunlock\b|\b(?:take|remove)\b[^.,;?!]*\blocks?\b"
    r"|\b(?:switch|turn)\b(?:(?!\boff\b)[^.,;?!])*\bon\b"
)
_BY_MOTOR = r"\bjog\b|\bby (?:its |the )?motor\b|\bstart the motor\b|\belectrically\b"
_BY_HAND = r"\bcrank\b|\bby hand\b"
_CRANKED = _words(r"\bcrank|\bturn|\bhandwheel\b|\b(?:in|to|toward)\b", _BY_MOTOR)

ACT_WORDS: Mapping[ActKind, Words] = {
    ActKind.CRANK_TO_STOP: _CRANKED,
    ActKind.CRANK: _CRANKED,
    ActKind.CRANK_SLOWLY: _CRANKED,
    ActKind.UNSEAT: _CRANKED,
    ActKind.CRANK_TO_MIDDLE: _words(r"\bmid-?\s?travel\b|\bmiddle\b|\bhalf-?\s?way\b", _BY_MOTOR),
    ActKind.DISENGAGE: _words(
        r"\bdisengag|\bpress|\bfree\b|\bmesh\b",
        r"\b(?:re-?)?engage\b|\bcome\s+(?:\w+\s+)?out\b|\bquarter turn back\b",
    ),
    ActKind.ENGAGE: _words(
        r"\b(?:re-?)?engage\b|\bback\b|\bout\b",
        r"\bdisengage\b|\bpress\b(?![^.?!]*\b(?:back|out)\b)",
    ),
    ActKind.TRY_SHAFTS: _words(r"\btry\b|\bshafts?\b", r"\bdo not try\b"),
    ActKind.TURN_SHAFT: _words(r"\bturn", r"\bcrank\b"),
    ActKind.ENERGISE: _words(r"\benergi[sz]e\b|\bon\b|\bpower\b", _OFF),
    ActKind.JOG: _words(r"\bjog\b|\bstart\b", _BY_HAND),
    ActKind.STROKE: _words(r"\brun\b|\bstart|\bstop|\bstroke\b|\bdrive\b", _BY_HAND),
    ActKind.LOCK_OFF: _words(r"\block|\bisolate\b|\boff\b", _ON),
    ActKind.RESTORE_SUPPLIES: _words(r"\bsuppl|\blocks?\b|\bpower\b|\brestore", _LOCKED),
}
"""For every act."""

FACT_WORDS: Mapping[Fact, Words] = {
    Fact.ISOLATED: _words(
        r"\bdead\b|\bisolated\b|\block|\bde-?energi[sz]ed\b|\boff\b",
        r"\blive\b|(?<!de-)\benergi[sz]ed\b|\bunlocked\b|\bswitched on\b"
        r"|\bthere (?:is |any |a )*voltage\b",
    ),
    Fact.RODS_ENGAGED: _words(
        r"\block|\bengage|\bshaft|\bfirm\b",
        r"\b(?:one|any|some|it|shafts?)\s+(?:\w+\s+)?(?:turns?|moves?|gives?)\b"
        r"|\bfree\b|\bloose\b|\bdisengaged\b",
    ),
    Fact.PEOPLE_CLEAR: _words(
        r"\bclear\b|\baway\b|\bnobody\b|\bno one\b|\bout\b",
        r"\b(?:any|some)(?:body|one)\b(?![^.?!]*\b(?:clear|away|out)\b)"
        r"|\bin the way\b|\bnot clear\b",
    ),
    Fact.PERMITTED: _words(
        r"\bpermi|\ballow|\bmay\b|\bagree",
        r"\bforbid|\bprohibit|\bdenied\b|\brefuse|\bwithheld\b"
        r"|\bnot (?:\w+ )?(?:permitted|allowed)\b|\b(?:no|without) permi",
    ),
    Fact.ROTATION_RIGHT: _words(
        r"\bmove|\bturn|\bway\b|\brotat|\bdirection\b|\bright\b",
        r"\bwrong\b|\brevers|\bbackwards?\b|\bother way\b",
    ),
}
"""For every fact that an answer can prove."""

_SPARED = re.compile(
    r"\b(?:not|never|no|nobody|none|nothing|without|cannot|before|after|until|unless|if|when)\b",
    re.IGNORECASE,
)
"""What turns the words behind it, in the same clause, into something else than what is done now."""


def said_against(text: str, words: Words) -> Iterator[str]:
    """Each piece of a text that says the contrary, as it was written.

    >>> list(said_against("Do not press it. Press it.", ACT_WORDS[ActKind.ENGAGE]))
    ['Press']
    """
    for found in words.against.finditer(text):
        clause = re.split(r"[.,;:?!]", text[: found.start()])[-1]
        if not _SPARED.search(clause):
            yield found[0]
