"""What rules look at."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field

from assistant.language.phone_distance import Dictionary
from assistant.language.phrase_book import PhraseBook
from assistant.procedure.model import Procedure
from assistant.procedure.program import Program
from assistant.procedure.rules.valve import Lack

__all__ = ["FileSubject", "Knows", "Means", "Seconds", "Subject"]

Seconds = Callable[[str], float]
"""From a text to the time that it takes to speak, measured from the rendered sound."""

Knows = Callable[[str], bool]
"""Whether a recogniser's vocabulary has a word."""


@dataclass(frozen=True, slots=True)
class Means:
    """What rules may use beside the files.

    Args:
        book: the phrase book.
        seconds: how long a text takes to speak; None where nothing is rendered.
        recognisers: by the name of each recogniser that is at hand, which words it knows.
        dictionary: how words are pronounced; None where no dictionary is installed.
        after_hold: what is said after the text of every hold.
    """

    book: PhraseBook
    seconds: Seconds | None = None
    recognisers: Mapping[str, Knows] = field(default_factory=dict)
    dictionary: Dictionary | None = None
    after_hold: str = ""


@dataclass(frozen=True, slots=True)
class FileSubject:
    """One file: a procedure or a part."""

    file: Procedure
    means: Means


@dataclass(frozen=True, slots=True)
class Subject:
    """A whole procedure.

    Args:
        program: the procedure with its parts joined in. For a part that is checked alone, a
            procedure that does nothing but call it.
        lacks: what its steps need and some way does not bring. None for a part alone: nobody knows
            how the valve stands when it begins.
        means: what rules may use beside it.
    """

    program: Program
    lacks: tuple[Lack, ...]
    means: Means

    @property
    def is_part(self) -> bool:
        """Whether it is a part that is checked alone: the procedure that calls it is in no file."""
        return not self.program.procedure.place.file
