"""A job under way: where it stands, what waits, and the moves from one to the next.

Everything here that speaks or asks is an iterator of effects. `core` decides which move an event
leads to, `commands` what a command does, and `asides` what follows from a question of the
session's own.
"""

from __future__ import annotations

from collections.abc import Generator, Iterator, Mapping
from datetime import UTC, datetime

from assistant.language.answers import AskYesNo
from assistant.language.meaning import ContactStates, Meaning
from assistant.language.phrase_book import PhraseBook
from assistant.language.questions import AskedByStep
from assistant.procedure.deeds import AT_THE_GATE, Fact
from assistant.procedure.known import lacking_for
from assistant.procedure.model import Ask, AskKind, End, Hold
from assistant.procedure.program import Program
from assistant.procedure.values import Value
from assistant.session import wording
from assistant.session.attendance import LONG_BREAK, LONGEST_WORK, is_long, takes_long
from assistant.session.belief import Range
from assistant.session.dialogue import Dialogue
from assistant.session.effects import (
    Confirmed,
    Effect,
    Finished,
    Held,
    Request,
    Say,
    WentBack,
)
from assistant.session.first_said import FirstSaid
from assistant.session.holds import REASONS, HoldKind
from assistant.session.putting_back import crank_back
from assistant.session.questions import most_of, question_of, subject_of
from assistant.session.restoring import prompt_for, to_be_restored
from assistant.session.rules import Rules
from assistant.session.states import Aside, Keeping, OnHold, Open, Over, Purpose, State
from assistant.session.trail import Answer, since_the_gate
from assistant.session.walk import Walk
from assistant.trade.unit import Unit

__all__ = ["Job"]


class Job:
    """A job under way.

    Args:
        program: the checked procedure.
        unit: the unit that is worked on, if any.
        book: the phrase book.
        papers: what was told about the job before it began.

    Attributes:
        now: the moment of the event that is being answered.
        attended: when somebody was last known to be there.
        state: where the job stands.
        reading: the contacts that were confirmed last.
        questions: how many have been answered.
        rules: by which it is decided.
        first_said: when the answer to the open question was said first.
        gate_fell: whether something was lost that is proved at the gate, so that the job goes back
            there.
        moved: whether somebody said that valve, rod or shafts were moved, and not since that they
            stand as they were left.
        trail: the answers that can be gone back to, the last of them last.
        to_crank_back: what waits to be cranked back until that is known to be safe.
    """

    def __init__(
        self,
        program: Program,
        unit: Unit | None,
        book: PhraseBook,
        papers: Mapping[str, Value],
    ) -> None:
        self.title = program.procedure.title
        self.book = book
        self.walk = Walk(program, unit, papers)
        self.now = datetime.min.replace(tzinfo=UTC)
        self.attended = self.now
        self.state: State = OnHold("not begun", None, self.now)
        self.reading: ContactStates | None = None
        self.questions = 0
        self.rules = Rules.THIRD
        self.gate_fell = False
        self.moved = False
        self.first_said = FirstSaid(self.now)
        self._mark = self.walk.bookmark()
        self.trail: list[Answer] = []
        self.to_crank_back: tuple[Request, ...] = ()

    @property
    def step(self) -> str:
        """The step at which the job stands."""
        return self.walk.node.name

    @property
    def can_go_back(self) -> bool:
        """Whether there is an answer that could be undone."""
        return bool(self.trail)

    def attend(self) -> None:
        """Somebody was heard now.

        A long silence before it stays one until it was asked how the valve stands. On hold nothing
        is asked: there the hold tells how long the break was.
        """
        waits = self.rules is not Rules.FIRST and not isinstance(self.state, OnHold)
        if not (waits and self.was_away):
            self.attended = self.now

    @property
    def was_away(self) -> bool:
        """Whether nobody was heard for so long that what was known does not count any more."""
        silent = (self.now - self.attended).total_seconds()
        return is_long(silent, LONGEST_WORK if self._waits_for_work else LONG_BREAK)

    @property
    def _waits_for_work(self) -> bool:
        """Whether work was asked for that takes long: to crank by hand, or to lock a supply off."""
        match self.state:
            case Open():
                acts = (request.act for request in self.walk.told)
                return self.walk.node.step.takes_work or takes_long(acts)
            case Aside(Purpose.RESTORE):
                return True
        return False

    def answered(self, meaning: Meaning, at: datetime) -> Iterator[Effect]:
        """Take an answer that counts, and go on.

        Args:
            meaning: the answer.
            at: the moment at which it was said.
        """
        node, mark, told = self.walk.node, self._mark, tuple(self.walk.told)
        over_gate, known, reading = self.walk.over_gate, self.walk.known, self.reading
        was_shown = self.walk.proofs.is_shown
        self.questions += 1
        if isinstance(meaning, ContactStates):
            self.reading = meaning
        yield Confirmed(self.step, meaning)
        yield from self.walk.answer(meaning, at)
        proved, energised = self.walk.known - known, Fact.ENERGISED in known
        voided = was_shown and not self.walk.proofs.is_shown
        self.trail.append(Answer(node, mark, told, proved, over_gate, energised, reading, voided))
        yield from self.forward()

    def forward(self) -> Iterator[Effect]:
        """Go to the next step that needs a person, and open its question."""
        self.mark()
        yield from self.go_on()

    def mark(self) -> None:
        """From here the next question is led to: going back over its answer leads here."""
        self._mark = self.walk.bookmark()

    def go_on(self) -> Iterator[Effect]:
        """The same, from where the walk stands, once what was missing is known."""
        if (yield from self._proofs_first(None)):
            return
        cranks = [request.act for request in self.to_crank_back]
        if (missing := lacking_for(cranks, self.walk.known)) and self.rules >= Rules.THIRD:
            yield from self._ask_for(missing, None)
            return
        if not missing:
            yield from map(Say, crank_back(self.to_crank_back))
        if not (missing and self.walk.missing()):
            self.to_crank_back = ()
        yield from self.walk.forward()
        if self.walk.is_misplaced:
            yield from self.to_its_place()
            return
        if missing := self.walk.missing():
            yield from self._ask_for(missing, None)
            return
        node = self.walk.node
        match node.step.action:
            case Ask() as ask:
                self.state = Open(
                    Dialogue(
                        question=question_of(node, ask, self.walk.names),
                        prompt=self.walk.prompt,
                        reads_back=ask.read_back,
                        book=self.book,
                        believed=Range(ask.least, most_of(node, ask, self.walk.names)),
                        works=bool(self.walk.told),
                    ),
                    subject_of(node, ask, self.walk.names),
                )
            case Hold(reason=template):
                fell = self.gate_fell
                reason = self._stood_down(self.walk.names.text(node, template))
                self.gate_fell = fell  # no question waits: the procedure leads on from here
                self.state = OnHold(reason, None, self.attended)
                yield Held(reason, HoldKind.PROCEDURE)
                yield from map(Say, self.asking())
            case End():
                self.state = Over()
                yield Finished()

    @property
    def has_work(self) -> bool:
        """Whether something is to be done before the step's question is answered."""
        step = self.walk.node.step
        is_done = isinstance(step.action, Ask) and step.action.kind is AskKind.DONE
        return bool(self.walk.told) or step.takes_work or is_done

    def ask_aside(
        self,
        purpose: Purpose,
        question: AskedByStep,
        prompt: str,
        facts: tuple[Fact, ...] = (),
        before: Open | OnHold | None = None,
    ) -> Iterator[Effect]:
        """Ask a question that no step asks; it returns to what is open now, or to `before`."""
        if isinstance(self.state, Open | OnHold):
            before = before or self.state
        yield from self._open_aside(purpose, question, prompt, facts, before)

    def _open_aside(
        self,
        purpose: Purpose,
        question: AskedByStep,
        prompt: str,
        facts: tuple[Fact, ...],
        before: Open | OnHold | None,
    ) -> Iterator[Effect]:
        dialogue = Dialogue(question, (prompt,), reads_back=False, book=self.book)
        self.state = Aside(purpose, dialogue, before, facts)
        yield Say(prompt)

    def undo(self) -> Answer:
        """Stand where the walk to the last answer's question began, with nothing of it proved."""
        answer = self.trail.pop()
        self.walk.return_to(answer.mark)
        self.lose_moments()
        self.walk.known -= answer.proved
        self.reading = answer.reading
        if answer.voided and self.rules >= Rules.THIRD:
            # The procedure would have had all proved again on the way that is left now.
            self.walk.proofs.prove_again()
        return answer

    @property
    def was_at_a_stop(self) -> bool:
        """Whether the valve was cranked to a known place for an answer before."""
        return any(one.begins_anywhere for one in self.trail)

    def to_its_place(self) -> Iterator[Effect]:
        """Go further back, to where the valve was cranked to a known place before this step."""
        yield Say(wording.ELSEWHERE)
        if not self.was_at_a_stop:
            self.walk.elsewhere = False
            yield Say(wording.PUT_IT_BACK)
            yield from self.go_on()
            return
        while not (answer := self.undo()).begins_anywhere:
            pass
        yield Say(wording.TO_A_STOP)
        # The question, not where its walk began: in a loop that may have been gone through since.
        yield WentBack(answer.node.name)
        yield from self.forward_or_to_the_gate()

    def _ask_for(self, missing: tuple[Fact, ...], before: Open | None) -> Iterator[Effect]:
        """Ask for what is missing; what belongs to the gate is proved there, in its order."""
        if not AT_THE_GATE.isdisjoint(missing):
            yield from self._to_the_gate()
        else:
            yield from self.restore(missing, before)

    def forward_or_to_the_gate(self) -> Iterator[Effect]:
        """Go on after a hold; behind the gate from its beginning, where nothing of it counts."""
        if self._begins_again_at_gate:
            yield from self._to_the_gate()
        else:
            self.gate_fell = False
            yield from self.forward()

    def go_on_or_to_the_gate(self) -> Iterator[Effect]:
        """The same from where the walk stands, once what was missing is known."""
        if self._begins_again_at_gate:
            yield from self._to_the_gate()
        else:
            yield from self.go_on()

    @property
    def _begins_again_at_gate(self) -> bool:
        """Whether the job stands behind the gate, with something lost that is proved there."""
        return self.gate_fell and self.walk.is_behind_gate

    def _to_the_gate(self) -> Iterator[Effect]:
        self.gate_fell = False
        self._forget_behind_gate()
        self.walk.return_to_gate()
        yield Say(wording.TO_THE_GATE)
        yield WentBack(self.step)
        yield from self.forward()

    def _proofs_first(self, before: Open | None) -> Generator[Effect, None, bool]:
        """Have every rotor proved again where that comes first; whether it does.

        The shafts have to be known to be locked. Behind the gate the procedure itself has them
        tried, and while a rod is out a rotor is being set, after which all are proved in any case.

        Args:
            before: the question that waits meanwhile.
        """
        if not self.walk.proofs.void or Fact.ROD_OUT in self.walk.known:
            return False
        if Fact.RODS_ENGAGED in self.walk.known:
            self.walk.return_to_proofs()
            self.gate_fell = False
            self.to_crank_back = ()  # from a stop it is proved, from wherever the valve stands
            self.trail.clear()  # the answers before show nothing any more
            yield Say(wording.PROVE_AGAIN)
            yield from self.forward()
            return True
        if self.walk.is_behind_gate:
            return False
        yield from self.restore((Fact.RODS_ENGAGED,), before)
        return True

    def _forget_behind_gate(self) -> None:
        """What was answered behind the gate is not gone back to: that would lead round its proofs.

        Nor is anything cranked back, for at the gate it is cranked to mid-travel from anywhere.
        """
        self.to_crank_back = ()
        if self.rules >= Rules.THIRD:
            self.walk.elsewhere = True
            void = since_the_gate(self.trail, self.walk.lies_behind_gate)
            del self.trail[len(self.trail) - void :]

    def _stood_down(self, reason: str) -> str:
        """The reason of a hold; with the supply on, what to do, and nothing of the gate counts."""
        if Fact.ENERGISED not in self.walk.known:
            return reason
        self.walk.known -= AT_THE_GATE
        self.gate_fell = True
        return f"{wording.STOPPED_ENERGISED} {reason}"

    def restore(self, facts: tuple[Fact, ...], before: Open | None) -> Iterator[Effect]:
        """Ask for the first of the missing facts; `before` is the question that waits for them.

        Behind the gate a shaft that is free voids what was proved by hand: the procedure's own step
        asks, which knows what follows.
        """
        if self.rules is not Rules.FIRST:
            facts = to_be_restored(facts, self.walk.known)
        rods = facts[0] is Fact.RODS_ENGAGED and self.walk.is_behind_gate
        if rods and self.walk.return_to_trying():
            self._forget_behind_gate()
            if self.gate_fell:
                self.gate_fell = False
                yield Say(wording.TO_THE_GATE)
            yield WentBack(self.walk.gate)
            yield from self.forward()
            return
        prompt = prompt_for(facts[0], self.walk.known)
        yield from self._open_aside(Purpose.RESTORE, AskYesNo(), prompt, facts, before)

    def lose_moments(self) -> None:
        """Let no time be measured from a moment before a break: what went on in it is unknown."""
        if self.rules >= Rules.THIRD:
            self.walk.names.lose_moments()
            self.first_said.forget()
        else:
            self.walk.names.lose_days_too()

    def is_long(self, since: datetime) -> bool:
        """Whether it is so long ago that nobody can vouch for what was proved then."""
        return is_long((self.now - since).total_seconds())

    def return_to(self, before: Open | OnHold) -> Iterator[Effect]:
        """Stand again where the job stood before a question of the session's own."""
        match before:
            case Open():
                yield from self.reopen(before)
            case OnHold():
                self.state = before
                yield from self.say_again()

    def reopen(self, waiting: Open) -> Iterator[Effect]:
        """Ask a question again that waited, if what it asks for may still be done."""
        if (yield from self._proofs_first(waiting)):
            return
        if self._begins_again_at_gate:
            yield from self._to_the_gate()
            return
        if missing := self.walk.missing_for_told():
            yield from self._ask_for(missing, waiting)
            return
        self.state = waiting
        yield from self.say_again()

    def hold(self, kind: HoldKind) -> Iterator[Effect]:
        """Hold the job with the question that is open.

        A hold that stands, or that was being closed, stays as it is, and so does what it forbids:
        its own reason is said.
        """
        match self.state:
            case Aside(before=OnHold() as held):
                self.state = held
            case Open() | Aside() as waiting:
                reason = self._stood_down(REASONS[kind])
                self.state = OnHold(reason, waiting, self.attended)
                yield Held(reason, kind)
        self.lose_moments()
        yield from map(Say, self.asking())

    def asking(self) -> tuple[str, ...]:
        """What is being asked at this moment, one prompt after the other."""
        match self.state:
            case Open(dialogue) | Aside(dialogue=dialogue):
                return dialogue.asking
            case OnHold(reason):
                return wording.on_hold(reason)
            case Keeping(then=None):
                return (wording.NOTE_NOW,)
            case Keeping(then=Purpose.WHO_CLOSES):
                return (wording.WHAT_WAS_DONE,)
            case Keeping():
                return (wording.SAY_WHY,)
        return ()

    def say_again(self, first: str = "") -> Iterator[Effect]:
        """Say this, if anything, and then what is being asked, after its warnings and cautions.

        Each is a prompt of its own: in one they would be too long to be kept in mind.
        """
        if first:
            yield Say(first)
        yield from self._notices()
        yield from map(Say, self.asking())

    def _notices(self) -> Iterator[Effect]:
        """The warnings and cautions that came before what is being asked, in one breath with it.

        Where a question waits behind another, they come again once that one is asked again.
        """
        match self.state:
            case Open() | Aside(before=None) | OnHold(waiting=None):
                yield from self.walk.notices()
