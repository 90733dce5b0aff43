"""Walk through the steps of a program up to the next one that needs a person."""

from __future__ import annotations

from collections import Counter
from collections.abc import Generator, Iterator, Mapping
from dataclasses import dataclass
from datetime import datetime

from assistant.language.meaning import (
    Agreement,
    Called,
    Choice,
    Command,
    Meaning,
    Spelling,
)
from assistant.language.spelling import letters_and_digits
from assistant.procedure.computing import COMPUTATIONS
from assistant.procedure.deeds import AT_THE_GATE, ActKind, Fact, proved
from assistant.procedure.known import begun, lacking, lacking_for, left
from assistant.procedure.model import Ask, Branch, Call, Compute, End, Hold, Repeat
from assistant.procedure.program import Node, Program
from assistant.procedure.proofs import tried_at_gate
from assistant.procedure.values import Kind, Moment, Value, of_meaning
from assistant.session import wording
from assistant.session.effects import (
    Advised,
    Begun,
    Deviated,
    Done,
    Effect,
    Recorded,
    Request,
    Say,
    Tick,
)
from assistant.session.names import Names
from assistant.session.place import Place
from assistant.session.proofs import Proofs
from assistant.session.valve_place import depends_on_place, makes_place_known
from assistant.trade.unit import Unit

__all__ = ["Bookmark", "Walk"]


@dataclass(frozen=True, slots=True)
class Bookmark:
    """Everything that is needed to stand at a step again; the valve is not part of it."""

    node: str
    given: tuple[tuple[str, Value], ...]
    repeats: tuple[tuple[str, int], ...]
    supply_may_be_on: bool


class Walk:
    """The way through the steps: place, values, loop counts, and what is known of the valve.

    Args:
        program: the checked procedure.
        unit: the unit that is worked on, if any.
        papers: what was told about the job before it began.

    Attributes:
        supply_may_be_on: whether it was to be switched on and is not proved dead since; what is
            forbidden goes by what is known, but nobody is told less than this to stop the motor.
        elsewhere: whether the record went back to where the valve does not stand any more; over
            once it is cranked to a stop, or to mid-travel.
        over_gate: whether the way here from the question before led over the gate.
    """

    def __init__(self, program: Program, unit: Unit | None, papers: Mapping[str, Value]) -> None:
        self._program = program
        self._place = Place(program)
        self._gate = program.gate
        self.names = Names.at_start(unit, papers)
        self.proofs = Proofs(program)
        self.known: frozenset[Fact] = frozenset()
        self.supply_may_be_on = False
        self.told: list[Request] = []
        self.elsewhere = False
        self.over_gate = False
        self._repeats: Counter[str] = Counter()
        self._instructions: list[str] = []
        self._notices: list[str] = []
        self._notices_before: tuple[str, ...] = ()

    @property
    def node(self) -> Node:
        """The step at which the job stands."""
        return self._place.node

    @property
    def handles_valve(self) -> bool:
        """Whether the procedure has somebody do something to a valve."""
        return self._program.handles_valve

    @property
    def prompt(self) -> tuple[str, ...]:
        """What is asked here, after the work that was told since the question before."""
        return tuple(self._instructions)

    def bookmark(self) -> Bookmark:
        """Where the job stands now."""
        return Bookmark(
            self.node.name,
            tuple(self.names.given.items()),
            tuple(self._repeats.items()),
            self.supply_may_be_on,
        )

    def return_to(self, mark: Bookmark) -> None:
        """Stand where a bookmark was made; its moments are from before a break then."""
        self._place.return_to(mark.node)
        self.names.given = dict(mark.given)
        self._repeats = Counter(dict(mark.repeats))
        self.supply_may_be_on |= mark.supply_may_be_on  # that it was proved dead may be undone
        self._forget_told()

    def missing(self) -> tuple[Fact, ...]:
        """The facts without which this step is forbidden and that are not known."""
        return lacking(self.node.step, self.known)

    def missing_for_told(self) -> tuple[Fact, ...]:
        """The same for the acts that were told with the open question, if it is asked again."""
        return lacking_for((request.act for request in self.told), self.known)

    @property
    def is_misplaced(self) -> bool:
        """Whether this step would be done elsewhere than where it has to be."""
        step = self.node.step
        return self.elsewhere and depends_on_place(step, (act.kind for act in step.acts))

    @property
    def is_behind_gate(self) -> bool:
        """Whether the job stands in the part of the gate, where the motor runs."""
        return self.lies_behind_gate(self.node.name)

    def lies_behind_gate(self, step: str) -> bool:
        """Whether a step belongs to the part of the gate."""
        return self._gate is not None and step.startswith(self._gate.scope.prefix)

    @property
    def gate(self) -> str:
        """The step where the proofs of the gate begin; only where there is a gate."""
        assert self._gate is not None, "the loader demands a gate"
        return self._gate.name

    def return_to_gate(self) -> None:
        """Stand at the gate, with nothing of it proved."""
        assert self._gate is not None, "the loader demands a gate"
        self.known -= AT_THE_GATE
        self._begin_anew(self._gate.scope.prefix)
        self._forget_told()
        self._place.return_to(self._gate.name)

    def return_to_proofs(self) -> None:
        """Stand where every rotor is proved again, with nothing of the gate proved."""
        assert self.proofs.again is not None, "only where they are proved again"
        self.proofs.void = False
        self.known -= AT_THE_GATE
        self._forget_told()
        self._place.return_to(self.proofs.again.name)

    def return_to_trying(self) -> bool:
        """Stand where the gate's part has the shafts tried, with nothing of the gate proved.

        False where it has no such step.
        """
        assert self._gate is not None, "only behind a gate"
        for node in tried_at_gate(self._program):
            self.return_to_gate()
            self._place.return_to(self._before(node).name)
            return True
        return False

    def _before(self, node: Node) -> Node:
        """The question whose every answer leads to this step, if one does; else this step."""
        leading = (
            one
            for one in self._program.nodes.values()
            if isinstance(one.step.action, Ask) and {*one.targets.values()} == {node.name}
        )
        return next(leading, node)

    def forward(self) -> Iterator[Effect]:
        """Do the step at which the job stands and all that follow, up to one that needs a person.

        The steps of which nothing is asked end by their only outcome, or by what they compute.
        A loop among them has a limit: the loader saw to that. A step whose acts are forbidden is
        not begun: see `missing`; nor is one at the wrong place: see `is_misplaced`.
        """
        while not (self.missing() or self.is_misplaced):
            yield from self._announce()
            if isinstance(self.node.step.action, Ask | Hold | End):
                return
            outcome = yield from self._work()
            yield from self._leave(outcome)

    def answer(self, meaning: Meaning, at: datetime) -> Iterator[Effect]:
        """Leave a question by its answer.

        Args:
            meaning: the answer.
            at: the moment at which it was given.
        """
        node = self.node
        ask = node.step.action
        assert isinstance(ask, Ask), "only a question is answered"
        if ask.into is not None and not (ask.instead and isinstance(meaning, Choice)):
            self.names.give(node, ask.into, of_meaning(meaning))
        if ask.when is not None:
            self.names.give(node, ask.when, Value(Kind.MOMENT, Moment(at)))
        self._forget_told()
        yield from self._leave(self._outcome(node, ask, meaning))

    def pass_over(self) -> Iterator[Effect]:
        """Leave a question that may be skipped."""
        self._forget_told()
        self._place.go(next(iter(self.node.targets)))
        yield from ()

    def carry_on(self) -> Iterator[Effect]:
        """Leave a step that holds."""
        self._forget_told()
        yield from self._leave("next")

    def _forget_told(self) -> None:
        """What was told since the question before is over with it."""
        self._notices_before = tuple(self._notices)
        self.over_gate = False
        self._instructions.clear()
        self._notices.clear()
        self.told.clear()

    def _begin_anew(self, prefix: str) -> None:
        """Count the repeats of the steps under a prefix anew."""
        for name in [name for name in self._repeats if name.startswith(prefix)]:
            del self._repeats[name]

    def prove(self, fact: Fact) -> None:
        """Take a fact as known that the session itself asked for."""
        self.known = proved((fact,), self.known)
        self.supply_may_be_on &= fact is not Fact.ISOLATED

    def notices(self) -> Iterator[Effect]:
        """The warnings and cautions since the question before, once more, in their order.

        A step that only tells may have one, and the question comes at a later step.
        """
        for text in self._notices:
            yield Say(text)

    def _announce(self) -> Iterator[Effect]:
        node, step = self.node, self.node.step
        yield Begun(node.name)
        if step.deviation is not None:
            yield Deviated(self.names.text(node, step.deviation))
        for notice in step.notices:
            text = wording.notice(notice.kind, self.names.text(node, notice.text))
            self._notices.append(text)
            yield Say(text)
        if not self._notices and step.does(ActKind.TURN_SHAFT):
            # Heard with the question before, where the turn begins; once more if asked anew.
            self._notices.extend(self._notices_before)
        if step.tick is not None:
            yield Tick(step.tick)  # before the words, for only "hold" is heard while it ticks
        if step.say is not None:
            text = self.names.text(node, step.say)
            yield Say(text)
            if step.acts or isinstance(step.action, Ask):
                self._instructions.append(text)
        for act in step.acts:
            request = Request(act.kind, self.names.values(node, act.arguments))
            self.told.append(request)
            self.supply_may_be_on |= act.kind is ActKind.ENERGISE
            yield request
        self.known = begun(step, self.known)
        self.elsewhere &= not makes_place_known(act.kind for act in step.acts)
        self.over_gate |= step.is_gate

    def _leave(self, outcome: str) -> Iterator[Effect]:
        node = self.node
        for record in node.step.records:
            name = node.scope.prefix + record.name
            rotor = next(iter(node.scope.rotors.values()), "")
            yield Recorded(name, self.names.value(node, record.value), rotor)
        self.known = left(node.step, outcome, self.known)
        self.supply_may_be_on &= Fact.ISOLATED not in node.step.proves.get(outcome, ())
        yield from self.proofs.left(node, outcome)
        yield Done(node.name, outcome)
        self._place.go(outcome)

    def _work(self) -> Generator[Effect, None, str]:
        node = self.node
        match node.step.action:
            case Compute() as compute:
                return (yield from self._compute(node, compute))
            case Call():
                self._begin_anew(f"{node.name}/")
            case Branch(on=reference):
                return str(self.names.value(node, reference).content)
            case Repeat(at_most=at_most):
                self._repeats[node.name] += 1
                if self._repeats[node.name] <= at_most:
                    return "again"
                del self._repeats[node.name]
                return "otherwise"
        return "next"

    def _compute(self, node: Node, compute: Compute) -> Generator[Effect, None, str]:
        inputs = {**self.names.values(node, compute.inputs), **compute.written}
        finding = COMPUTATIONS[compute.computation].run(inputs)
        if compute.into is not None and finding.result is not None:
            self.names.give(node, compute.into, finding.result)
        if compute.because is not None:
            self.names.give(node, compute.because, Value(Kind.TEXT, finding.because))
        if finding.result is not None and finding.result.kind is Kind.ADVICE:
            yield Advised(inputs["rotor"].content.rotor.name, finding.result.content)
        return finding.outcome

    def _outcome(self, node: Node, ask: Ask, meaning: Meaning) -> str:
        match meaning:
            case _ if set(node.targets) == {"next"}:
                return "next"
            case Command(word):
                return word.value
            case Choice(name) | Called(name=name):
                return name if name in node.targets else "next"
            case Agreement(agrees=agrees):
                return "agreed" if agrees else "not-agreed"
            case Spelling(text) if ask.expect is not None:
                expected = self.names.value(node, ask.expect).content
                same = letters_and_digits(text) == letters_and_digits(expected)
                return "match" if same else "mismatch"
        return "next"
