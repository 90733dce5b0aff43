"""A simulated technician: does on the simulated actuator what is asked, and says what is seen.

The technician knows the actuator only as a person would: by cranking, turning, looking at the
contacts and lamps, and reading the plate. What they ought to be is not known to them. A `Slip`
is something said wrongly that the program may hear; a `Mistake` is an error of the campaign.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field

from assistant.language.meaning import Command, Correction, Meaning, Word
from assistant.language.questions import AskEither
from assistant.procedure.deeds import ActKind
from assistant.procedure.values import Value
from assistant.rig.actuator import Actuator
from assistant.rig.answering import Answering, TechnicianLost
from assistant.rig.belief import Belief
from assistant.rig.counting import Counting
from assistant.rig.mistakes import Mistake, MistakeKind
from assistant.rig.motor import Motor
from assistant.rig.phrasing import Phrasing
from assistant.session.effects import Begun, Effect, Listen, Request
from assistant.session.events import Event
from assistant.trade.motion import Rotation, Travel
from assistant.trade.unit import Unit

__all__ = ["DOES", "MOST_HOLDS", "Slip", "Technician", "TechnicianLost", "plate_of"]

LONGEST_SEARCH = 1000.0
"""Shaft revolutions after which a search for the change-over is given up."""

MOST_HOLDS = 6
"""Holds after which a technician leaves the job: something cannot be put right here."""

SECONDS_PER_REPLY = 3.0
"""From a question to its answer, where nothing else takes time; from memory."""

SECONDS_PER_TURN = 2.0
"""A handwheel turn; from memory."""

SHAFT_RPM = 120.0
"""How fast the shafts are turned: at the pace that the program gives."""

FAST_RPM = 300.0
"""How fast they are turned by mistake."""


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


def plate_of(unit: Unit) -> dict[str, str]:
    """What is written on a valve that is the one of its sheet, and how it really seats."""
    return {
        "unit.tag": unit.tag,
        "unit.revision": unit.revision,
        "unit.seating": unit.seating.value,
    }


@dataclass(slots=True)
class Technician:
    """Works on a rig.

    Args:
        rig: the simulated actuator; None for a procedure that is on no unit, where nothing that
            only a rig tells can be answered.
        plate: what is written on the valve and on the drawing, by name (``unit.tag``).
        motor: of the actuator; None where it is never switched on.
        slips: the slips to make.
        mistake: the error to make, once.
        seconds: how much time the work has taken so far.
    """

    rig: Actuator | None
    plate: Mapping[str, str]
    motor: Motor | None = None
    slips: tuple[Slip, ...] = ()
    mistake: Mistake | None = None
    seconds: float = 0.0
    made: bool = False
    holds: int = 0
    _step: str = ""
    _phrasing: Phrasing = field(default_factory=Phrasing)
    _todo: list[Request] = field(default_factory=list)
    _where: list[str] = field(default_factory=list)
    _listen: Listen | None = None
    _belief: Belief = field(default_factory=Belief)
    _meant: Meaning | None = None
    _believes_slip: bool = False
    _half: bool = False
    _slipped: set[str] = field(default_factory=set)
    _counting: Counting = field(default_factory=Counting)

    def watch(self, _event: Event, effects: tuple[Effect, ...]) -> None:
        """Hear what the program says and asks."""
        for effect in effects:
            match effect:
                case Begun(step):
                    self._step = step
                case Request():
                    self._todo.append(effect)
                    self._where.append(self._step)
                case Listen():
                    self._listen = effect

    def reply(self) -> str:
        """Do what was asked, and say what a person would say.

        Raises:
            TechnicianLost: there is no way to answer on this rig.
        """
        listen = self._listening()
        slip = None if listen.read_back or listen.aside else self._slip(listen.step)
        if slip is not None:
            self._do_all()
            self._believes_slip = not slip.noticed
            self._believe(listen, self._look(listen))
            return slip.says
        if listen.read_back is not None and self._believes_slip:
            self._believes_slip = False
            return self._phrasing.agreement()
        return self._phrasing.words(self.answer(), listen.question)

    def answer(self) -> Meaning:
        """Do what was asked, and answer; raises TechnicianLost where there is no way to."""
        listen = self._listening()
        if isinstance(listen.question, AskEither):
            return self._which(listen.question)
        self._meant = self._answer(listen)
        return self._meant

    def _which(self, asked: AskEither) -> Meaning:
        """Say again what was meant, if it is one of the two."""
        meant = self._meant
        return meant if meant in (asked.first, asked.second) and meant else Command(Word.NO)

    def _answer(self, listen: Listen) -> Meaning:
        if listen.read_back is not None:
            return self._belief.reply_to(listen.read_back)
        self.seconds += SECONDS_PER_REPLY
        if listen.aside in ("hold", "note"):
            return self._on_hold(listen)
        self._do_all()
        answer = self._look(listen)
        self.believe(answer)
        return answer

    @property
    def to_do(self) -> tuple[Request, ...]:
        """What was asked for and is not done yet."""
        return tuple(self._todo)

    @property
    def asked_at(self) -> tuple[str, ...]:
        """The steps at which it was asked for."""
        return tuple(self._where)

    def work(self) -> None:
        """Do what was asked for, without answering; TechnicianLost where it cannot be done."""
        self._do_all()

    def work_otherwise(self, *instead: Request) -> None:
        """Do this in place of what was asked for; TechnicianLost where it cannot be done."""
        self._forget_work()
        for request in instead:
            self._do(request, None)

    def turn_by(self, rotor: str, way: Rotation, revolutions: float) -> float:
        """Turn a shaft so far in place of what was asked for; the revolutions really made.

        Raises:
            RigError: the revolutions are negative or not finite.
            TechnicianLost: there is no rig.
        """
        made = self._rig().turn_shaft(rotor, way, revolutions)
        self._forget_work()
        self._counting.shaft(made)
        self.seconds += made * 60 / SHAFT_RPM
        return made

    def engage_half(self) -> None:
        """Let the rod come only half out in place of what was asked for."""
        self._forget_work()
        self._rig().engage_half()

    def _forget_work(self) -> None:
        self._todo.clear()
        self._where.clear()

    def take_over(self, answer: Meaning) -> None:
        """Do what was asked for, and believe what somebody else answers in this one's stead."""
        listen = self._listening()
        if isinstance(answer, Correction) and listen.read_back is not None:
            self._believe(listen, answer.answer)
        if listen.read_back is not None or listen.aside in ("hold", "note"):
            return
        self.seconds += SECONDS_PER_REPLY
        self._do_all()
        self.believe(answer)

    def believe(self, answer: Meaning) -> None:
        """Hold an answer to the open question for true."""
        listen = self._listening()
        if not listen.aside:
            self._believe(listen, answer)

    def _believe(self, listen: Listen, answer: Meaning) -> None:
        if self._belief.step != listen.step:
            self._belief = Belief(listen.step)
        self._belief.add(listen.question, answer)

    def _listening(self) -> Listen:
        if self._listen is None:
            raise TechnicianLost("the program is not listening")
        return self._listen

    def _look(self, listen: Listen) -> Meaning:
        """What is answered, with the error if this is the place for it."""
        mistake = self.mistake
        made = None
        if mistake and not self.made and not listen.aside and self._errs_at(mistake, listen.step):
            made = mistake
        answering = Answering(self.rig, self.plate, self._counting, listen, made)
        answer = answering.answer()
        self.made = self.made or answering.errs
        return answer

    def _errs_at(self, mistake: Mistake, step: str) -> bool:
        if mistake.kind is MistakeKind.HALF_ENGAGED:
            return self._half and step.endswith("try-shafts")
        return mistake.step == step

    def _on_hold(self, listen: Listen) -> Meaning:
        if listen.aside == "note":
            # The words are kept as they were said, whatever they are, but for a command.
            return Command(Word.DONE)
        self.holds += 1
        if self.holds > MOST_HOLDS:
            raise TechnicianLost("the job is held again and again")
        return Command(Word.CARRY_ON)

    def _slip(self, step: str) -> Slip | None:
        for slip in self.slips:
            if slip.step == step and step not in self._slipped:
                self._slipped.add(step)
                return slip
        return None

    # Work

    def _do_all(self) -> None:
        for request, step in zip(self._todo, self._where, strict=True):
            mistake = None
            if self.mistake and not self.made and self.mistake.step == step:
                mistake = self.mistake
            self._do(request, mistake)
        self._forget_work()

    def _do(self, request: Request, mistake: Mistake | None) -> None:
        if mistake and mistake.kind is MistakeKind.STEP_SKIPPED:
            self.made = True
            self._counting.skipped()
            return
        DOES[request.act](self, request.arguments, mistake)

    def _crank_to_stop(self, told: Mapping[str, Value], mistake: Mistake | None) -> None:
        toward: Travel = told["toward"].content
        made = self._rig().crank_to_stop(toward)
        self._counting.to_stop(made)
        if made < 1:
            self._rig().crank(1, toward.opposite)
            self._rig().crank_to_stop(toward)
        self.seconds += made * SECONDS_PER_TURN

    def _crank(self, told: Mapping[str, Value], mistake: Mistake | None) -> None:
        turns = told["turns"].content.value
        match mistake:
            case Mistake(kind=MistakeKind.MISCOUNT, detail=off) if turns + off >= 0:
                turns += off
                self.made = True
            case Mistake(kind=MistakeKind.WRONG_BACK_OFF, detail=other):
                turns = other
                self.made = True
        self._rig().crank(turns, told["toward"].content)
        self._counting.restart()
        self.seconds += turns * SECONDS_PER_TURN

    def _crank_slowly(self, told: Mapping[str, Value], mistake: Mistake | None) -> None:
        contacts = told["contacts"].content
        most = told["most"].content.value
        before = self._rig().position_turns
        found = self._rig().crank_until_change(contacts, told["toward"].content, most)
        made = abs(self._rig().position_turns - before)
        self._counting.add(made, changed=found is not None)
        self.seconds += made * SECONDS_PER_TURN

    def _crank_to_middle(self, _told: Mapping[str, Value], mistake: Mistake | None) -> None:
        half = self._rig().unit.stroke_turns.value / 2
        here = self._rig().position_turns
        toward = Travel.OPENING if here < half else Travel.CLOSING
        self._rig().crank(abs(half - here), toward)
        self.seconds += abs(half - here) * SECONDS_PER_TURN

    def _unseat(self, told: Mapping[str, Value], mistake: Mistake | None) -> None:
        made = self._rig().crank(UNSEATS_AT, told["toward"].content)
        self._counting.add(made, changed=True)

    def _disengage(self, _told: Mapping[str, Value], mistake: Mistake | None) -> None:
        self._rig().disengage()

    def _engage(self, _told: Mapping[str, Value], mistake: Mistake | None) -> None:
        match mistake:
            case Mistake(kind=MistakeKind.ROD_LEFT_OUT):
                self.made = True
            case Mistake(kind=MistakeKind.HALF_ENGAGED):
                # `made` waits for the answer that goes with it: "locked", without trying.
                self._rig().engage_half()
                self._half = True
            case _:
                self._rig().engage()

    def _nothing(self, _told: Mapping[str, Value], mistake: Mistake | None) -> None:
        """What changes nothing: what is felt or seen is told when it is asked for."""

    def _turn_shaft(self, told: Mapping[str, Value], mistake: Mistake | None) -> None:
        rotor = told["rotor"].content.rotor.name
        way = told["way"].content
        rpm = SHAFT_RPM
        match mistake:
            case Mistake(kind=MistakeKind.WRONG_WAY):
                way = way.opposite
                self.made = True
            case Mistake(kind=MistakeKind.TOO_FAST):
                rpm = FAST_RPM
                self.made = True
        made = self._rig().turn_until_change(rotor, way, LONGEST_SEARCH)
        self._counting.shaft(made)
        # The reply comes with the change-over: no time passes between them.
        # Nobody is told to have turned more than was turned in that time: a part counts as a whole.
        counted = max(made or 0.0, float(round(made or 0.0)))
        self.seconds += counted * 60 / rpm - SECONDS_PER_REPLY

    def _jog(self, told: Mapping[str, Value], mistake: Mistake | None) -> None:
        self._counting.moved = self._motor().jog(told["toward"].content)

    def _stroke(self, told: Mapping[str, Value], mistake: Mistake | None) -> None:
        self.seconds += self._motor().stroke(told["toward"].content).seconds - SECONDS_PER_REPLY

    def _rig(self) -> Actuator:
        if self.rig is None:
            raise TechnicianLost("there is no rig")
        return self.rig

    def _motor(self) -> Motor:
        if self.motor is None:
            raise TechnicianLost("this rig has no motor")
        return self.motor


UNSEATS_AT = 0.25
"""Handwheel turns from the closed stop at which the simulated disk leaves its seat; invented."""

Doing = Callable[[Technician, Mapping[str, Value], Mistake | None], None]

DOES: Mapping[ActKind, Doing] = {
    ActKind.CRANK_TO_STOP: Technician._crank_to_stop,
    ActKind.CRANK: Technician._crank,
    ActKind.CRANK_SLOWLY: Technician._crank_slowly,
    ActKind.CRANK_TO_MIDDLE: Technician._crank_to_middle,
    ActKind.UNSEAT: Technician._unseat,
    ActKind.DISENGAGE: Technician._disengage,
    ActKind.ENGAGE: Technician._engage,
    ActKind.TRY_SHAFTS: Technician._nothing,
    ActKind.TURN_SHAFT: Technician._turn_shaft,
    ActKind.ENERGISE: Technician._nothing,
    ActKind.JOG: Technician._jog,
    ActKind.STROKE: Technician._stroke,
    ActKind.LOCK_OFF: Technician._nothing,
    ActKind.RESTORE_SUPPLIES: Technician._nothing,
}
