"""The kinds of questions that a step can ask, and those by which the session gets to an answer."""

from __future__ import annotations

from dataclasses import dataclass

from assistant.language.meaning import ContactStates, Lit, Meaning, ShaftTurn
from assistant.trade.sheet_faults import NUMBERED

__all__ = [
    "ALL_CONTACTS",
    "LAMPS_OF_A_VALVE",
    "AskAgreement",
    "AskChoice",
    "AskContacts",
    "AskDigits",
    "AskDone",
    "AskEither",
    "AskLamps",
    "AskMark",
    "AskNumber",
    "AskRotation",
    "AskSpelling",
    "AskWhether",
    "AskYesNo",
    "Question",
]

ALL_CONTACTS = tuple(NUMBERED)
"""As many contacts as there can be."""

LAMPS_OF_A_VALVE = (("closed lamp", "green"), ("open lamp", "red"))
"""Names and colours in the shipped sheets, for a question of which no sheet is known."""


@dataclass(frozen=True, slots=True)
class AskDone:
    """Tell when it is done."""


@dataclass(frozen=True, slots=True)
class AskYesNo:
    """Yes or no."""


@dataclass(frozen=True, slots=True)
class AskContacts:
    """The states of contacts.

    Args:
        contacts: numbers from 1 to 16, at least one, each once; kept in ascending order.
    """

    contacts: tuple[int, ...]

    def __post_init__(self) -> None:
        numbers = sorted(set(self.contacts))
        if not numbers or len(numbers) != len(self.contacts):
            raise ValueError(f"ask for one or more contacts, each once, not {self.contacts}")
        if not set(numbers) <= set(ALL_CONTACTS):
            first, last = ALL_CONTACTS[0], ALL_CONTACTS[-1]
            raise ValueError(f"contacts are numbered {first} to {last}, not {self.contacts}")
        object.__setattr__(self, "contacts", tuple(numbers))


@dataclass(frozen=True, slots=True)
class AskRotation:
    """The sense in which a shaft turned."""


@dataclass(frozen=True, slots=True)
class AskNumber:
    """A number.

    Args:
        unit: a name of its unit in the phrase book, or None for a bare number.
        called: words of which one must come before the number ("mark, four turns"), written like
            choices; without any the number stands alone.
        instead: words of which one alone answers in place of a number, written like choices.
        most: below one hundred, no hundreds are listened for: "two turns" sounds like "two
            hundred".
    """

    unit: str | None
    called: tuple[str, ...] = ()
    instead: tuple[str, ...] = ()
    most: float = 999.0


@dataclass(frozen=True, slots=True)
class AskChoice:
    """One of several choices.

    Args:
        choices: their names, at least one.
    """

    choices: tuple[str, ...]

    def __post_init__(self) -> None:
        if not self.choices:
            raise ValueError("a question for a choice needs choices")


@dataclass(frozen=True, slots=True)
class AskLamps:
    """Which lamps are lit.

    Args:
        lamps: name and colour of each, at least one; the order is that of the answer.
    """

    lamps: tuple[tuple[str, str], ...]

    def __post_init__(self) -> None:
        if not self.lamps:
            raise ValueError("a question for lamps needs lamps")


@dataclass(frozen=True, slots=True)
class AskAgreement:
    """The verdict of a second person, who says the own role word first.

    Args:
        role: one for which the phrase book has words.
    """

    role: str


@dataclass(frozen=True, slots=True)
class AskMark:
    """Say 'mark' at the moment when something happens."""


@dataclass(frozen=True, slots=True)
class AskSpelling:
    """Letters and digits, one at a time."""


@dataclass(frozen=True, slots=True)
class AskEither:
    """Which of two answers was said.

    Args:
        question: what was asked.
        first: one answer.
        second: the other.
    """

    question: AskedByStep
    first: Meaning
    second: Meaning


@dataclass(frozen=True, slots=True)
class AskWhether:
    """Whether one thing is so, yes or no: a contact closed, a lamp lit, a shaft turning clockwise.

    Args:
        so: the one contact, lamp or rotation.
    """

    so: ContactStates | Lit | ShaftTurn


@dataclass(frozen=True, slots=True)
class AskDigits:
    """A number digit by digit: "one five" for fifteen.

    Args:
        question: the question for the number.
    """

    question: AskNumber


AskedByStep = (
    AskDone
    | AskYesNo
    | AskContacts
    | AskRotation
    | AskNumber
    | AskLamps
    | AskAgreement
    | AskChoice
    | AskMark
    | AskSpelling
)
"""What a step of a procedure can ask."""

Question = AskedByStep | AskEither | AskWhether | AskDigits
