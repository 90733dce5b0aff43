"""What is said in the lessons: sentences of the job, commands, and other English.

Sentences of the job are walks through the grammars, sense or nonsense, so that no word is learnt by
its neighbours alone. Other English keeps the letters from standing for the words of the job only.
"""

from __future__ import annotations

import random
import re
from collections.abc import Iterator
from pathlib import Path

from assistant.language.answers import (
    AskAgreement,
    AskChoice,
    AskContacts,
    AskDone,
    AskLamps,
    AskMark,
    AskNumber,
    AskRotation,
    AskSpelling,
    AskYesNo,
    Question,
    commands_only,
    confirming,
    grammar,
)
from tests.bench.replies import BOOK, replies, walk

__all__ = ["texts"]

QUESTIONS: tuple[Question, ...] = (
    *(AskContacts(tuple(range(1, count + 1))) for count in (1, 2, 3, 4, 8)),
    *(AskContacts(tuple(range(first, first + 4))) for first in (5, 9, 13)),
    *(AskContacts((first, first + 1)) for first in (3, 5)),
    *(AskNumber(unit) for unit in ("turns", "%", "seconds", "revolutions", None)),
    AskNumber("turns", most=99),
    AskNumber("turns", called=("mark", "full-stop", "end"), instead=("none",), most=99),
    AskRotation(),
    AskYesNo(),
    AskDone(),
    AskMark(),
    AskSpelling(),
    AskAgreement("technician"),
    AskAgreement("checker"),
    AskLamps((("closed lamp", "green"), ("open lamp", "red"))),
    AskChoice(("torque", "position")),
    AskChoice(("locked", "moved")),
    AskChoice(("open", "closed", "mid-travel")),
)

WALKS, CORRECTIONS = 70, 15
"""Sentences drawn from the grammar of each question, and from that of its read-back."""

LONGEST = 14
"""Words."""

SHARE_OF_COMMANDS, SHARE_OF_OTHERS = 0.12, 0.18

DOCUMENTS = ("README.md", "DEVELOPERS.md", "procedures/README.md")
"""Other English, in runs of one to five words."""


def texts(chance: random.Random) -> Iterator[str]:
    """Text after text, without end."""
    of_job = sorted(_of_job(chance))
    commands = list(commands_only(BOOK).sentences())
    others = _others()
    while True:
        kind = chance.random()
        if kind < SHARE_OF_COMMANDS:
            yield chance.choice(commands)
        elif kind < SHARE_OF_COMMANDS + SHARE_OF_OTHERS:
            first = chance.randrange(len(others) - 5)
            yield " ".join(others[first : first + chance.randint(1, 5)])
        else:
            yield chance.choice(of_job)


def _of_job(chance: random.Random) -> set[str]:
    said = {reply.text for reply in replies()}
    for question in QUESTIONS:
        said |= {walk(grammar(question, BOOK), chance) for _ in range(WALKS)}
        said |= {walk(confirming(question, BOOK), chance) for _ in range(CORRECTIONS)}
    return {text for text in said if 0 < len(text.split()) <= LONGEST}


def _others() -> list[str]:
    root = Path(__file__).parents[3]
    whole = " ".join((root / name).read_text(encoding="utf-8") for name in DOCUMENTS)
    return re.findall(r"[a-z']{2,}", whole.lower())
