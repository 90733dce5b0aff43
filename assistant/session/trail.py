"""The answers that count, the last of them last: going back leads along them."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import takewhile

from assistant.language.meaning import ContactStates
from assistant.procedure.deeds import ActKind, Fact
from assistant.procedure.model import Ask, AskKind
from assistant.procedure.program import Node
from assistant.session.effects import Request
from assistant.session.valve_place import begins_anywhere, depends_on_place
from assistant.session.walk import Bookmark

__all__ = ["Answer", "since_the_gate"]


@dataclass(frozen=True, slots=True)
class Answer:
    """An answer that counts.

    Args:
        node: the step of its question.
        mark: where the walk to its question began.
        told: what was asked for on that walk.
        proved: what the answer proved.
        over_gate: whether that walk led over the gate.
        energised: whether the supply was on when it was asked.
        reading: the contacts that were confirmed last before it.
        voided: whether what was proved by hand fell by it.
    """

    node: Node
    mark: Bookmark
    told: tuple[Request, ...]
    proved: frozenset[Fact]
    over_gate: bool
    energised: bool
    reading: ContactStates | None
    voided: bool

    @property
    def reads_contacts(self) -> bool:
        """Whether it told contacts as they stood, with no shaft turned for it."""
        ask = self.node.step.action
        is_read = isinstance(ask, Ask) and ask.kind is AskKind.CONTACTS
        return is_read and ActKind.TURN_SHAFT not in self.acts

    @property
    def begins_anywhere(self) -> bool:
        """Whether what was asked for before it may begin wherever the valve stands."""
        return begins_anywhere(self.acts)

    @property
    def depends_on_place(self) -> bool:
        """Whether it can only be asked again where the valve stood then."""
        return depends_on_place(self.node.step, self.acts)

    @property
    def acts(self) -> tuple[ActKind, ...]:
        """The kinds of what was asked for."""
        return tuple(request.act for request in self.told)


def since_the_gate(trail: Sequence[Answer], is_behind: Callable[[str], bool]) -> int:
    """How many answers, counted from the last, were given behind the gate.

    Args:
        trail: the answers, the last of them last.
        is_behind: whether a step belongs to the part of the gate; what was answered in it before
            the gate was come to is not counted.
    """
    last_first = takewhile(lambda one: is_behind(one.node.name), reversed(trail))
    over = (number for number, one in enumerate(last_first, start=1) if one.over_gate)
    return max(over, default=0)
