"""A simulated technician: does on the simulated actuator what is asked, and says what is seen.

The technician knows the actuator only as a person would: by cranking, turning, looking at the
contacts and reading the plate. What the contacts ought to be is not known to them.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field

from assistant.language.answers import (
    AskChoice,
    AskContacts,
    AskDone,
    AskMark,
    AskNumber,
    AskRotation,
    AskSpelling,
    AskYesNo,
    Question,
)
from assistant.language.meaning import Command, ContactStates, Meaning, ShaftTurn, Spelling, Word
from assistant.language.spelling import letters_and_digits
from assistant.procedure.model import ActKind
from assistant.procedure.values import Value
from assistant.rig.actuator import Actuator, Drive
from assistant.rig.phrasing import Phrasing
from assistant.session.effects import Effect, Listen, Request
from assistant.session.events import Event
from assistant.trade.contacts import ContactState

__all__ = ["Slip", "Technician", "TechnicianLost"]

LONGEST_SEARCH = 1000.0
"""Shaft revolutions after which a search for the change-over is given up."""


class TechnicianLost(Exception):  # noqa: N818 - it says what happened, in the users' words
    """The technician was asked something that cannot be done or answered on this rig."""


@dataclass(frozen=True, slots=True)
class Slip:
    """One human slip: at this step, the first time it is asked, say this instead.

    Args:
        step: the step, by its name in the whole program.
        says: what is said; a contact that is misread, a word that does not answer, "say again".
        noticed: whether the technician notices the slip when it is read back.
    """

    step: str
    says: str
    noticed: bool


@dataclass(slots=True)
class Technician:
    """Works on a rig.

    Args:
        rig: the simulated actuator.
        plate: what is written on the valve and on the drawing, by name (``unit.tag``).
        slips: the slips to make.
    """

    rig: Actuator
    plate: Mapping[str, str]
    slips: tuple[Slip, ...] = ()
    _phrasing: Phrasing = field(default_factory=Phrasing)
    _todo: list[Request] = field(default_factory=list)
    _listen: Listen | None = None
    _believes_slip: bool = False
    _slipped: set[str] = field(default_factory=set)

    def watch(self, _event: Event, effects: tuple[Effect, ...]) -> None:
        """Hear what the program says and asks."""
        for effect in effects:
            if isinstance(effect, Request):
                self._todo.append(effect)
            if isinstance(effect, Listen):
                self._listen = effect

    def reply(self) -> str:
        """Do what was asked, and say what a person would say.

        Raises:
            TechnicianLost: there is no way to answer on this rig.
        """
        listen = self._listen
        if listen is None:
            raise TechnicianLost("the program is not listening")
        if listen.read_back is not None:
            return self._confirm(listen)
        self._do_all()
        if listen.question is None:
            return Word.CARRY_ON.value.replace("-", " ")
        slip = self._slip(listen.step)
        self._believes_slip = slip is not None and not slip.noticed
        return slip.says if slip else self._answer(listen.question, listen.subject)

    def _slip(self, step: str) -> Slip | None:
        for slip in self.slips:
            if slip.step == step and step not in self._slipped:
                self._slipped.add(step)
                return slip
        return None

    def _confirm(self, listen: Listen) -> str:
        """Compare what is read back with what is seen."""
        read_back = listen.read_back
        if isinstance(read_back, Command):
            return "no"  # this technician gives no command that is asked about
        if self._believes_slip or (read_back and self._is_so(read_back, listen.subject)):
            return self._phrasing.agreement()
        return f"wrong, {self._in_full(read_back, listen.subject)}"

    def _is_so(self, read_back: Meaning, subject: str) -> bool:
        match read_back:
            case ContactStates(states):
                return all(self.rig.read(number) is state for number, state in states)
            case ShaftTurn(rotation):
                return rotation is self.rig.seen[subject]
            case Spelling(text):
                return text == letters_and_digits(self.plate[subject])
        return False

    def _in_full(self, read_back: Meaning | None, subject: str) -> str:
        """The right answer in place of the one that was read back."""
        match read_back:
            case ContactStates(states):
                return self._phrasing.in_full(self._look(tuple(number for number, _ in states)))
            case ShaftTurn():
                return self.rig.seen[subject].value
            case Spelling():
                return self._phrasing.spelled(self.plate[subject])
        raise TechnicianLost(f"nothing on this rig tells whether {read_back!r} is right")

    def _do_all(self) -> None:
        for request in self._todo:
            _ACTS[request.act](self, request.arguments)
        self._todo.clear()

    def _answer(self, question: Question, subject: str) -> str:
        match question:
            case AskDone():
                return "done"
            case AskYesNo():
                return "yes"
            case AskMark():
                return "mark"
            case AskContacts(contacts):
                return self._phrasing.contacts(self._look(contacts))
            case AskRotation():
                return self.rig.seen[subject].value
            case AskSpelling():
                return self._phrasing.spelled(self.plate[subject])
            case AskChoice(choices):
                return self._choose(choices)
            case AskNumber():
                raise TechnicianLost("no step of this rig asks for a number yet")

    def _look(self, contacts: tuple[int, ...]) -> dict[int, ContactState]:
        return self.rig.reading(contacts)

    def _choose(self, choices: tuple[str, ...]) -> str:
        seen = {
            "locked": not any(self.rig.shaft_moves(rotor.name) for rotor in self.rig.unit.rotors),
            "moved": any(self.rig.shaft_moves(rotor.name) for rotor in self.rig.unit.rotors),
            "out": self.rig.drive is Drive.ENGAGED,
            "pressed": self.rig.drive is Drive.DISENGAGED,
        }
        for choice in choices:
            if seen.get(choice):
                return choice
        raise TechnicianLost(f"nothing on this rig tells which of {', '.join(choices)}")

    def _crank_to_stop(self, told: Mapping[str, Value]) -> None:
        toward = told["toward"].content
        if self.rig.crank_to_stop(toward) < 1:
            self.rig.crank(1, toward.opposite)
            self.rig.crank_to_stop(toward)

    def _crank(self, told: Mapping[str, Value]) -> None:
        self.rig.crank(told["turns"].content.value, told["toward"].content)

    def _disengage(self, _told: Mapping[str, Value]) -> None:
        self.rig.disengage()

    def _engage(self, _told: Mapping[str, Value]) -> None:
        self.rig.engage()

    def _try_shafts(self, _told: Mapping[str, Value]) -> None:
        """Trying a shaft changes nothing; what is felt is told when it is asked for."""

    def _turn_shaft(self, told: Mapping[str, Value]) -> None:
        rotor = told["rotor"].content.rotor.name
        if self.rig.turn_until_change(rotor, told["way"].content, LONGEST_SEARCH) is None:
            raise TechnicianLost(f"the {rotor} shaft found no change-over")


_ACTS: Mapping[ActKind, Callable[[Technician, Mapping[str, Value]], None]] = {
    ActKind.CRANK_TO_STOP: Technician._crank_to_stop,
    ActKind.CRANK: Technician._crank,
    ActKind.DISENGAGE: Technician._disengage,
    ActKind.ENGAGE: Technician._engage,
    ActKind.TRY_SHAFTS: Technician._try_shafts,
    ActKind.TURN_SHAFT: Technician._turn_shaft,
}
