"""An answer that is told in parts: the contacts, or the lamps, that were told so far.

People read two contacts and then the other two. What was told is kept, and only the rest is asked
for; the whole is read back. Questions of other kinds have no parts: they are answered or not.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from assistant.language.meaning import ContactStates, Lit, Meaning
from assistant.language.questions import AskContacts, AskedByStep, AskLamps, Question
from assistant.trade.contacts import ContactState

__all__ = ["Part", "PartialAnswer", "parts_of"]

Part = int | str
"""A contact by its number, or a lamp by its name."""

_State = ContactState | bool


def parts_of(meaning: Meaning, asked: Question) -> Mapping[Part, _State]:
    """What an answer tells of each part; to a question for lamps, what is not named is dark."""
    match meaning, asked:
        case ContactStates(), AskContacts():
            return dict(meaning.states)
        case Lit(names), AskLamps(lamps):
            return {name: name in names for name, _ in lamps}
    return {}


@dataclass(slots=True)
class PartialAnswer:
    """What was told of a question so far.

    Args:
        question: the whole question.
    """

    question: AskedByStep
    _told: dict[Part, _State] = field(default_factory=dict)

    @property
    def begun(self) -> bool:
        """Whether something was told."""
        return bool(self._told)

    @property
    def open_question(self) -> AskedByStep:
        """The question for the parts that were not told."""
        return self.of(self.left) if self.left else self.question

    @property
    def left(self) -> tuple[Part, ...]:
        """The parts that were not told."""
        match self.question:
            case AskContacts(contacts):
                return tuple(contact for contact in contacts if contact not in self._told)
            case AskLamps(lamps):
                return tuple(name for name, _ in lamps if name not in self._told)
        return ()

    def of(self, parts: tuple[Part, ...]) -> AskedByStep:
        """The question for some of the parts."""
        match self.question:
            case AskContacts(contacts):
                return AskContacts(tuple(contact for contact in contacts if contact in parts))
            case AskLamps(lamps):
                return AskLamps(tuple(lamp for lamp in lamps if lamp[0] in parts))
        return self.question

    def tell(self, parts: Mapping[Part, _State]) -> None:
        """Add what was told."""
        self._told.update(parts)

    def doubt(self, parts: tuple[Part, ...]) -> None:
        """Take back what was told of these parts."""
        for part in parts:
            self._told.pop(part, None)

    def forget(self) -> None:
        """Take back everything."""
        self._told.clear()

    @property
    def whole(self) -> Meaning | None:
        """The answer, once every part was told; None before, and where there are no parts."""
        if self.left:
            return None
        match self.question:
            case AskContacts(contacts):
                told = {contact: self._told[contact] for contact in contacts}
                states = {n: state for n, state in told.items() if isinstance(state, ContactState)}
                return ContactStates.of(states)
            case AskLamps(lamps):
                return Lit(tuple(name for name, _ in lamps if self._told[name] is True))
        return None
