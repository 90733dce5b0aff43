"""Walk through the steps of a program up to the next one that needs a person."""

from __future__ import annotations

from collections import Counter
from collections.abc import Generator, Iterator
from dataclasses import dataclass

from assistant.language.meaning import Choice, Command, Meaning, Spelling
from assistant.language.spelling import letters_and_digits
from assistant.procedure.computations import COMPUTATIONS
from assistant.procedure.model import Ask, Branch, Compute, End, Hold, Repeat
from assistant.procedure.program import Node, Program
from assistant.procedure.values import Kind, Value, of_meaning
from assistant.session.effects import Advised, Effect, Recorded, Request, Say
from assistant.session.names import Names
from assistant.session.place import Place
from assistant.trade.unit import Unit

__all__ = ["Bookmark", "Walk"]


@dataclass(frozen=True, slots=True)
class Bookmark:
    """Everything that is needed to stand at a step again."""

    node: str
    given: tuple[tuple[str, Value], ...]
    repeats: tuple[tuple[str, int], ...]


class Walk:
    """The way through the steps: place, values and loop counts."""

    def __init__(self, program: Program, unit: Unit) -> None:
        self._place = Place(program)
        self.names = Names(unit)
        self._repeats: Counter[str] = Counter()

    @property
    def node(self) -> Node:
        """The step at which the job stands."""
        return self._place.node

    def bookmark(self) -> Bookmark:
        """Where the job stands now."""
        return Bookmark(
            self.node.name, tuple(self.names.given.items()), tuple(self._repeats.items())
        )

    def return_to(self, mark: Bookmark) -> None:
        """Stand where a bookmark was made."""
        self._place.return_to(mark.node)
        self.names.given = dict(mark.given)
        self._repeats = Counter(dict(mark.repeats))

    def forward(self) -> Iterator[Effect]:
        """Do the step at which the job stands and all that follow, up to one that needs a person.

        The steps of which nothing is asked end by their only outcome, or by what they compute.
        A loop among them has a limit: the loader saw to that.
        """
        while True:
            yield from self._announce()
            if isinstance(self.node.step.action, Ask | Hold | End):
                return
            outcome = yield from self._work()
            yield from self._record()
            self._place.go(outcome)

    def answer(self, meaning: Meaning) -> Iterator[Effect]:
        """Leave a question by its answer."""
        node = self.node
        ask = node.step.action
        assert isinstance(ask, Ask), "only a question is answered"
        if ask.into is not None:
            self.names.give(node, ask.into, of_meaning(meaning))
        yield from self._record()
        self._place.go(self._outcome(node, ask, meaning))

    def carry_on(self) -> None:
        """Leave a step that holds."""
        self._place.go("next")

    def notices(self) -> Iterator[Effect]:
        """The warnings and cautions of the step at which the job stands."""
        for notice in self.node.step.notices:
            text = self.names.text(self.node, notice.text)
            yield Say(f"{notice.kind.value.capitalize()}. {text}")

    def _announce(self) -> Iterator[Effect]:
        node, step = self.node, self.node.step
        yield from self.notices()
        if step.say is not None:
            yield Say(self.names.text(node, step.say))
        for act in step.acts:
            yield Request(act.kind, self.names.values(node, act.arguments))

    def _record(self) -> Iterator[Effect]:
        for record in self.node.step.records:
            name = self.node.scope.prefix + record.name
            yield Recorded(name, self.names.value(self.node, record.value))

    def _work(self) -> Generator[Effect, None, str]:
        node = self.node
        match node.step.action:
            case Compute() as compute:
                return (yield from self._compute(node, compute))
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
        finding = COMPUTATIONS[compute.computation].run(self.names.values(node, compute.inputs))
        if compute.into is not None and finding.result is not None:
            self.names.give(node, compute.into, finding.result)
        if compute.because is not None:
            self.names.give(node, compute.because, Value(Kind.TEXT, finding.because))
        if finding.result is not None and finding.result.kind is Kind.ADVICE:
            rotor = self.names.values(node, compute.inputs)["rotor"].content.rotor
            yield Advised(rotor.name, finding.result.content)
        return finding.outcome

    def _outcome(self, node: Node, ask: Ask, meaning: Meaning) -> str:
        if "next" in node.targets:
            return "next"
        match meaning:
            case Command(word):
                return word.value
            case Choice(name):
                return name
            case Spelling(text) if ask.expect is not None:
                expected = self.names.value(node, ask.expect).content
                return (
                    "match"
                    if letters_and_digits(text) == letters_and_digits(expected)
                    else "mismatch"
                )
        raise AssertionError(f"{meaning!r} does not answer step {node.name}")
