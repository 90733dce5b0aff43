"""What is said in the lessons: sentences of the job, commands, and other English.

Sentences of the job are walks through the grammars, sense or nonsense, so that no word is learnt by
its neighbours alone. Other English keeps the letters from standing for the words of the job only.
"""

from __future__ import annotations

import random
import re
from collections.abc import Callable, Iterator, Sequence
from functools import partial
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
    AskChoice(("locked", "free")),
    AskChoice(("open", "closed", "mid-travel")),
)

WALKS, CORRECTIONS = 300, 60
"""Walks through the grammar of each question, and through that of its read-back."""

SHORT, LONGEST = 2, 14
"""Words."""

SHARES = {"short": 0.3, "often": 0.25, "commands": 0.1, "others": 0.15, "job": 0.2}
"""Of what is said: what noise hides first, what is said most in jobs, and the rest."""

DOCUMENTS = ("README.md", "DEVELOPERS.md", "procedures/README.md")
"""Other English, in runs of one to five words."""


def texts(chance: random.Random) -> Iterator[str]:
    """Text after text, without end."""
    of_job = sorted(_of_job(chance))
    often = replies()
    draws: dict[str, Callable[[], str]] = {
        "short": partial(chance.choice, [text for text in of_job if len(text.split()) <= SHORT]),
        "often": lambda: chance.choices(list(often), list(often.values()))[0].text,
        "commands": partial(chance.choice, list(commands_only(BOOK).sentences())),
        "others": partial(_run_of, _others(), chance),
        "job": partial(chance.choice, of_job),
    }
    while True:
        yield draws[chance.choices(list(SHARES), list(SHARES.values()))[0]]()


def _run_of(words: Sequence[str], chance: random.Random) -> str:
    first = chance.randrange(len(words) - 5)
    return " ".join(words[first : first + chance.randint(1, 5)])


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
