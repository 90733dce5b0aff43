"""The typed model of a procedure file: steps as they were written, not yet joined."""

from __future__ import annotations

import enum
from collections.abc import Mapping
from dataclasses import dataclass

from assistant.procedure.problems import Place
from assistant.procedure.values import Kind

__all__ = [
    "ACT_ARGUMENTS",
    "Act",
    "ActKind",
    "Action",
    "Ask",
    "AskKind",
    "Branch",
    "Call",
    "Compute",
    "End",
    "Hold",
    "Notice",
    "NoticeKind",
    "Procedure",
    "Record",
    "Reference",
    "Repeat",
    "Step",
    "Target",
    "Tell",
    "Template",
]


@dataclass(frozen=True, slots=True)
class Reference:
    """A value by its name and fields: ``rotor.contacts``."""

    path: tuple[str, ...]
    place: Place

    def __str__(self) -> str:
        return ".".join(self.path)


@dataclass(frozen=True, slots=True)
class Template:
    """A text with references in braces."""

    pieces: tuple[str | Reference, ...]
    place: Place

    @property
    def references(self) -> tuple[Reference, ...]:
        """The references in the text."""
        return tuple(piece for piece in self.pieces if isinstance(piece, Reference))


@dataclass(frozen=True, slots=True)
class Target:
    """Where a step goes on: the name of a step, ``next`` or ``return``."""

    name: str
    place: Place


class AskKind(enum.StrEnum):
    """The kinds of questions."""

    DONE = "done"
    YES_NO = "yes-no"
    CONTACTS = "contacts"
    ROTATION = "rotation"
    NUMBER = "number"
    CHOICE = "choice"
    MARK = "mark"
    SPELLING = "spelling"


class ActKind(enum.StrEnum):
    """What a step has the technician do to the valve."""

    CRANK_TO_STOP = "crank-to-stop"
    CRANK = "crank"
    DISENGAGE = "disengage"
    ENGAGE = "engage"
    TRY_SHAFTS = "try-shafts"
    TURN_SHAFT = "turn-shaft"


ACT_ARGUMENTS: Mapping[ActKind, Mapping[str, Kind]] = {
    ActKind.CRANK_TO_STOP: {"toward": Kind.TRAVEL},
    ActKind.CRANK: {"turns": Kind.NUMBER, "toward": Kind.TRAVEL},
    ActKind.DISENGAGE: {},
    ActKind.ENGAGE: {},
    ActKind.TRY_SHAFTS: {},
    ActKind.TURN_SHAFT: {"rotor": Kind.ROTOR, "way": Kind.ROTATION},
}
"""What each act must be told."""


@dataclass(frozen=True, slots=True)
class Act:
    """An act with its arguments."""

    kind: ActKind
    arguments: tuple[tuple[str, Reference], ...]
    place: Place


class NoticeKind(enum.StrEnum):
    """A warning is about people, a caution about equipment."""

    WARNING = "warning"
    CAUTION = "caution"


@dataclass(frozen=True, slots=True)
class Notice:
    """A warning or caution, spoken before its step."""

    kind: NoticeKind
    text: Template


@dataclass(frozen=True, slots=True)
class Tell:
    """Speak, and go on without an answer."""


@dataclass(frozen=True, slots=True)
class Ask:
    """Ask, and wait for the answer.

    Args:
        kind: what sort of answer.
        of: the contacts to read, or the rotor whose shaft is watched.
        unit: of a number.
        least: smallest number that is believed.
        most: largest number that is believed.
        choices: the words to choose from.
        expect: what a spelled answer must equal; gives the outcomes match and mismatch.
        into: name under which the answer is kept.
    """

    kind: AskKind
    of: Reference | None = None
    unit: str | None = None
    least: float | None = None
    most: float | None = None
    choices: tuple[str, ...] = ()
    expect: Reference | None = None
    into: str | None = None


@dataclass(frozen=True, slots=True)
class Compute:
    """Run a named computation and branch on its outcome.

    Args:
        computation: its name.
        inputs: what it is given.
        into: name under which its result is kept.
        because: name under which its reasons are kept, in words, whatever the outcome.
        place: where it is named.
    """

    computation: str
    inputs: tuple[tuple[str, Reference], ...]
    into: str | None
    because: str | None
    place: Place


@dataclass(frozen=True, slots=True)
class Branch:
    """Go on by a value that was chosen before."""

    on: Reference


@dataclass(frozen=True, slots=True)
class Repeat:
    """Go back at most so many times, then somewhere else."""

    target: Target
    at_most: int
    otherwise: Target


@dataclass(frozen=True, slots=True)
class Hold:
    """Stop safely, say why, and wait for 'carry on'."""

    reason: Template


@dataclass(frozen=True, slots=True)
class Call:
    """Do the steps of a part with these arguments."""

    part: str
    arguments: tuple[tuple[str, str, Place], ...]
    place: Place


@dataclass(frozen=True, slots=True)
class End:
    """The job is done."""


Action = Tell | Ask | Compute | Branch | Repeat | Hold | Call | End


@dataclass(frozen=True, slots=True)
class Record:
    """A value that goes into the record under a name."""

    name: str
    value: Reference


@dataclass(frozen=True, slots=True)
class Step:
    """One step, as written."""

    name: str
    place: Place
    notices: tuple[Notice, ...]
    say: Template | None
    acts: tuple[Act, ...]
    action: Action
    records: tuple[Record, ...]
    go: Mapping[str, Target]


@dataclass(frozen=True, slots=True)
class Procedure:
    """One file: a procedure, or a part that procedures call.

    Args:
        name: its name.
        title: its title in words.
        revision: its revision.
        about: what it is for.
        inputs: names and kinds of a part's inputs; empty for a procedure.
        parts: names of parts and the files they are in, relative to this file.
        steps: the steps, in the order of the file.
        place: where the file begins.
        is_part: whether it may only be called.
    """

    name: str
    title: str
    revision: str
    about: str
    inputs: Mapping[str, Kind]
    parts: Mapping[str, Target]
    steps: tuple[Step, ...]
    place: Place
    is_part: bool
