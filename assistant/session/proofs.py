"""What was shown by hand of the rotors of a job, and when it shows nothing any more."""

from __future__ import annotations

from collections.abc import Iterator

from assistant.procedure.deeds import ActKind
from assistant.procedure.program import Node, Program
from assistant.procedure.proofs import found_free, proved_again_at, shown_of
from assistant.session.effects import Effect, Voided

__all__ = ["Proofs"]


class Proofs:
    """Which rotors are shown to be set as drawn.

    Args:
        program: the checked procedure.

    Attributes:
        again: where the procedure has every rotor proved again; None where it has no such place.
        void: whether they are to be proved again before anything relies on them.
    """

    def __init__(self, program: Program) -> None:
        self.again = proved_again_at(program)
        self.void = False
        self._shown: frozenset[str] = frozenset()

    def left(self, node: Node, outcome: str) -> Iterator[Effect]:
        """Take what a step shows that was left by this outcome.

        Where it had a shaft turned, or found one free, the procedure itself has all proved anew.
        """
        if node.step.does(ActKind.TURN_SHAFT) or found_free(node, outcome):
            yield from self._forget()
            self.void = False
        elif (shown := shown_of(node, outcome)) is not None:
            self._shown |= {shown[0]}

    @property
    def is_shown(self) -> bool:
        """Whether anything is shown of any rotor."""
        return bool(self._shown)

    def prove_again(self) -> None:
        """What was shown fell, and the way to the proofs of all was gone back over."""
        self.void = self.again is not None

    def fall(self) -> Iterator[Effect]:
        """A shaft was found free, or something moved, and the procedure knows nothing of it.

        Before anything was shown nothing is void: what was only set is proved later in any case.
        """
        self.void = self.void or (bool(self._shown) and self.again is not None)
        yield from self._forget()

    def _forget(self) -> Iterator[Effect]:
        if self._shown:
            yield Voided(tuple(sorted(self._shown)))
        self._shown = frozenset()
