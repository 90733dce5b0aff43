"""What a simulated technician holds for true of a question, however it was asked."""

from __future__ import annotations

from dataclasses import dataclass, field

from assistant.language.meaning import Command, ContactStates, Correction, Lit, Meaning, Word
from assistant.language.questions import AskEither, AskLamps, AskWhether, Question
from assistant.session.spelling_out import answer_of
from assistant.trade.contacts import ContactState

__all__ = ["Belief"]


@dataclass(slots=True)
class Belief:
    """What was answered at one step, added up over the questions for its parts.

    Args:
        step: the step.
    """

    step: str = ""
    _contacts: dict[int, ContactState] = field(default_factory=dict)
    _lamps: dict[str, bool] = field(default_factory=dict)
    _answer: Meaning | None = None

    def add(self, question: Question | None, answer: Meaning) -> None:
        """Remember what was just answered."""
        match question, answer:
            case AskWhether() as asked, Command(word):
                answer = answer_of(asked, word is Word.YES)
                lamps = asked.so.names if isinstance(asked.so, Lit) else ()
            case AskEither(), Command(Word.NO):
                return
            case AskLamps(named), _:
                lamps = tuple(name for name, _ in named)
            case _:
                lamps = ()
        self._answer = answer
        match answer:
            case ContactStates():
                self._contacts.update(answer.mapping())
            case Lit(names):
                self._lamps.update({name: name in names for name in lamps})

    def reply_to(self, read_back: Meaning) -> Meaning:
        """Compare what is read back with it: yes, or wrong and the right answer."""
        believed = self._answer
        match read_back:
            case ContactStates() if self._contacts:
                told = read_back.mapping() | self._contacts
                right = told == read_back.mapping()
                believed = ContactStates.of(self._contacts)
            case Lit(names) if self._lamps:
                believed = Lit(tuple(name for name, lit in self._lamps.items() if lit))
                right = set(believed.names) == set(names)
            case _:
                right = believed in (None, read_back)
        return Command(Word.YES) if right or believed is None else Correction(believed)
