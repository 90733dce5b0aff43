"""What lies beside the journal in a job's folder, as far as it is as it was."""

from __future__ import annotations

from dataclasses import dataclass

from assistant.journal.proofs import LockedBy
from assistant.procedure.deeds import Fact
from assistant.record.words import Field

__all__ = ["Beside"]


@dataclass(frozen=True, slots=True)
class Beside:
    """What lies beside the journal.

    Args:
        locked: which outcomes of which steps tell that the shafts are locked, by the procedure;
            None where that is not as it was.
        known: what is known of the valve where the journal ends; None where that is not known.
        held: whether the job is on hold there; False where that is not known.
        lost_clips: the lines whose recording is missing or was changed.
        key_signatures: what each signature by a key says that is right, and what it covers.
        signature_faults: the others, each with what is wrong.
    """

    locked: LockedBy | None = None
    known: frozenset[Fact] | None = None
    held: bool = False
    lost_clips: tuple[int, ...] = ()
    key_signatures: tuple[tuple[Field, ...], ...] = ()
    signature_faults: tuple[str, ...] = ()
