"""What a recogniser made of a case, and how that is judged."""

from __future__ import annotations

import csv
import time
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from pathlib import Path

from assistant.language.meaning import ContactStates, Correction, Meaning
from assistant.language.recognition import Recognition
from assistant.speech.ears import Recogniser
from tests.bench.cases import Case

__all__ = ["Outcome", "hear", "kept_in_csv", "outcome"]


@dataclass(frozen=True, slots=True)
class Outcome:
    """What a recogniser made of a case.

    Args:
        ear: which recogniser.
        group: of the case.
        condition: its name, in words.
        label: what was said, and by whom.
        said: what was meant; None where it is no reply.
        text: what was heard.
        best: what that means, however doubtful.
        meaning: the same where it was accepted.
        confidence: 0 to 1.
        seconds: length of the sound.
        taken: seconds that it took.
    """

    ear: str
    group: str
    condition: str
    label: str
    said: Meaning | None
    text: str
    best: Meaning | None
    meaning: Meaning | None
    confidence: float
    seconds: float
    taken: float

    @property
    def verdict(self) -> str:
        """understood, unclear or wrong; right where nothing was said and nothing accepted."""
        if self.meaning is None:
            return "unclear" if self.said is not None else "right"
        return "understood" if self.meaning == self.said else "wrong"

    @property
    def swapped(self) -> bool:
        """Whether a contact was accepted in the opposite of the state that was said."""
        heard, said = _states(self.meaning), _states(self.said)
        if heard is None or said is None:
            return False
        states = said.mapping()
        return any(states.get(contact, state) != state for contact, state in heard.states)


def _states(meaning: Meaning | None) -> ContactStates | None:
    if isinstance(meaning, Correction):
        return _states(meaning.answer)
    return meaning if isinstance(meaning, ContactStates) else None


def hear(name: str, recogniser: Recogniser, case: Case) -> Outcome:
    """Recognise one case and take the time."""
    begun = time.perf_counter()
    heard = recogniser.recognise(case.samples, case.item.grammar)
    return outcome(name, case, heard, time.perf_counter() - begun)


def outcome(name: str, case: Case, heard: Recognition, taken: float) -> Outcome:
    """What a recogniser made of a case, in so many seconds."""
    return Outcome(
        name,
        case.group,
        str(case.condition),
        case.item.label,
        case.item.said,
        heard.text,
        heard.meaning,
        heard.accepted(),
        heard.confidence,
        heard.seconds,
        taken,
    )


_COLUMNS = ("ear", "group", "condition", "label", "text", "verdict", "swapped", "best right")
_NUMBERS = ("confidence", "seconds", "taken")


def kept_in_csv(file: Path, outcomes: Iterable[Outcome]) -> Iterator[Outcome]:
    """The outcomes as they come; each is a line of the file already when it is handed on."""
    with file.open("w", newline="", encoding="utf-8", buffering=1) as stream:
        writer = csv.writer(stream)
        writer.writerow([*_COLUMNS, *_NUMBERS])
        for one in outcomes:
            right = one.best is not None and one.best == one.said
            words = (one.ear, one.group, one.condition, one.label, one.text, one.verdict)
            numbers = (one.confidence, one.seconds, one.taken)
            row = (*words, one.swapped, right, *(f"{number:.3f}" for number in numbers))
            writer.writerow(row)
            yield one
