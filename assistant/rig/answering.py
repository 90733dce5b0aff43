"""What a simulated technician, or the second checker, answers to one question."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from assistant.language.meaning import (
    Agreement,
    Called,
    Choice,
    Command,
    ContactStates,
    Lit,
    Meaning,
    Quantity,
    ShaftTurn,
    Spelling,
    Word,
)
from assistant.language.questions import (
    AskAgreement,
    AskChoice,
    AskContacts,
    AskDigits,
    AskDone,
    AskLamps,
    AskMark,
    AskNumber,
    AskRotation,
    AskSpelling,
    AskWhether,
    AskYesNo,
    Question,
)
from assistant.language.spelling import letters_and_digits
from assistant.rig.actuator import Actuator, Drive
from assistant.rig.counting import Counting
from assistant.rig.mistakes import Mistake, MistakeKind
from assistant.rig.motor import lamps_lit
from assistant.session.effects import Listen
from assistant.trade.motion import Rotation, Travel

__all__ = ["Answering", "TechnicianLost"]

_WELL = ("locked-off", "as-found", "leave", "ran-on", "sound", "none", "technician")
"""What is answered where all is well."""


class TechnicianLost(Exception):  # noqa: N818 - it says what happened, in the users' words
    """The technician was asked something that cannot be done or answered on this rig."""


@dataclass(slots=True)
class Answering:
    """One question, answered by looking at the rig.

    Args:
        rig: the simulated actuator; None where there is none to look at.
        plate: what is written on the valve and on the drawing, by name.
        counting: what was counted.
        listen: the question.
        mistake: the error to make in this answer, if one is to be made here.
        errs: whether the answer holds the error.
    """

    rig: Actuator | None
    plate: Mapping[str, str]
    counting: Counting
    listen: Listen
    mistake: Mistake | None
    errs: bool = field(default=False)

    def answer(self) -> Meaning:
        """The answer; raises TechnicianLost where nothing on this rig tells it."""
        match self.listen.question:
            case AskContacts(contacts):
                return self._contacts(contacts)
            case AskRotation():
                return self._rotation()
            case (AskNumber() as question) | AskDigits(question):
                return self._number(question)
            case AskChoice(choices):
                return Choice(self._another(self._choose(choices), choices))
            case AskLamps(lamps):
                return self._lamps(tuple(name for name, _ in lamps))
            case AskSpelling():
                return self._spelling()
            case AskAgreement(role):
                return Agreement(role, agrees=True)
            case AskWhether(so):
                return Command(Word.YES if self._is_so(so) else Word.NO)
            case question:
                return Command(self._word(question))

    def _rig(self) -> Actuator:
        if self.rig is None:
            raise TechnicianLost("there is no rig to look at")
        return self.rig

    def _spelling(self) -> Meaning:
        if self.listen.subject not in self.plate:
            raise TechnicianLost("nothing on the valve tells what is to be spelled")
        return Spelling(letters_and_digits(self.plate[self.listen.subject]))

    def _is_so(self, so: Meaning) -> bool:
        """Look at the one contact, lamp or shaft that is asked about."""
        match so:
            case ContactStates():
                return self._contacts(tuple(so.mapping())) == so
            case Lit(lamps):
                return self._lamps(lamps) == so
        return self._rotation() == so

    def _word(self, question: Question | None) -> Word:
        match question:
            case AskDone():
                return Word.DONE
            case AskYesNo():
                return Word.NO if self.listen.aside in ("go-back", "skip") else Word.YES
            case AskMark():
                return Word.MARK
        raise TechnicianLost("nothing is asked")

    def _makes(self, kind: MistakeKind) -> bool:
        made = self.mistake is not None and self.mistake.kind is kind
        self.errs = self.errs or made
        return made

    def _detail(self) -> float:
        return self.mistake.detail if self.mistake else 0.0

    def _contacts(self, contacts: tuple[int, ...]) -> Meaning:
        seen = self._rig().reading(contacts)
        place = contacts[int(self._detail()) % len(contacts)]
        if self._makes(MistakeKind.MISREAD):
            seen[place] = seen[place].other
        if self._makes(MistakeKind.WRONG_CONTACT):
            # The state of the first contact that stands otherwise, given for this one.
            other = next((n for n in contacts if seen[n] is not seen[place]), place)
            seen[place], seen[other] = seen[other], seen[place]
        return ContactStates.of(seen)

    def _rotation(self) -> Meaning:
        # Whoever did not crank has seen nothing, and guesses.
        rotation = self._rig().seen.get(self.listen.subject, Rotation.CLOCKWISE)
        return ShaftTurn(rotation.opposite if self._makes(MistakeKind.MISOBSERVED) else rotation)

    def _number(self, question: AskNumber) -> Meaning:
        if question.unit == "revolutions":
            return self._revolutions(question)
        if question.unit != "turns":
            raise TechnicianLost(f"nothing on this rig tells a number of {question.unit}")
        turns = self.counting.told
        if self._makes(MistakeKind.MISCOUNT):
            turns = max(turns + self._detail(), 0.0)
        number = Quantity(turns, question.unit)
        if not question.called:
            return number
        if self.counting.changed or (len(question.called) == 1 and not question.instead):
            return Called(question.called[0], number)
        return Called("end", number) if "end" in question.called else Choice(question.instead[0])

    def _revolutions(self, question: AskNumber) -> Meaning:
        made = self.counting.revolutions
        if made is None:
            return Choice(question.instead[0])
        return Called(question.called[0], Quantity(float(round(made)), question.unit))

    def _lamps(self, lamps: tuple[str, ...]) -> Meaning:
        lit = set(lamps_lit(self._rig()))
        if self._makes(MistakeKind.WRONG_LAMP):
            lit ^= {lamps[int(self._detail()) % len(lamps)]}
        return Lit(tuple(name for name in lamps if name in lit))

    def _another(self, choice: str, choices: tuple[str, ...]) -> str:
        if not self._makes(MistakeKind.WRONG_WORD):
            return choice
        return next(other for other in choices if other != choice)

    def _choose(self, choices: tuple[str, ...]) -> str:
        rotors = [rotor.name for rotor in self._rig().unit.rotors]
        if {*rotors, "none"} <= set(choices):
            # Whoever found out why the lamps differ knows which rotor it is, if it is one.
            return next((name for name in rotors if not self._rig().is_as_drawn(name)), "none")
        moves = any(self._rig().shaft_moves(name) for name in rotors)
        untried = self._makes(MistakeKind.UNTRIED) or self._makes(MistakeKind.HALF_ENGAGED)
        seen = {
            "locked": untried or not moves,
            "free": moves and not untried,
            "out": self._rig().drive is Drive.ENGAGED,
            "pressed": self._rig().drive is Drive.DISENGAGED,
            "torque": self.plate.get("unit.seating") == "torque",
            "position": self.plate.get("unit.seating") == "position",
            "open": self.counting.moved is Travel.OPENING,
            "closed": self.counting.moved is Travel.CLOSING,
            "not-at-all": self.counting.moved is None,
            **dict.fromkeys(_WELL, True),
        }
        for choice in choices:
            if seen.get(choice):
                return choice
        raise TechnicianLost(f"nothing on this rig tells which of {', '.join(choices)}")
