"""The typed model of a procedure file: steps as they were written, not yet joined."""

from __future__ import annotations

import enum
from collections.abc import Mapping
from dataclasses import dataclass, field

from assistant.procedure.deeds import ActKind, Fact
from assistant.procedure.located import Located
from assistant.procedure.problems import Place
from assistant.procedure.values import Kind, Value

__all__ = [
    "RETURN_WITH",
    "Act",
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

    @property
    def plain(self) -> str:
        """The text as it was written, references in braces."""
        return "".join(piece if isinstance(piece, str) else f"{{{piece}}}" for piece in self.pieces)


RETURN_WITH = "return-"
"""What comes before the outcome with which a part returns."""


@dataclass(frozen=True, slots=True)
class Target:
    """Where a step goes on: a step, ``next``, ``return``, or ``return-right`` with an outcome."""

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
    LAMPS = "lamps"
    AGREEMENT = "agreement"


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
        of: the contacts to read, the rotor whose shaft is watched, or the lamps to look at.
        unit: of a number.
        least: smallest number that is believed.
        most: largest number that is believed, or a value of the unit that bounds it.
        called: words of which one comes before a number ("mark, four turns").
        instead: words that answer in place of a number.
        choices: the words to choose from.
        expect: what a spelled answer must equal; gives the outcomes match and mismatch.
        by: the role of the second person who answers.
        into: name under which the answer is kept.
        when: name under which the moment of the answer is kept.
        read_back: whether the answer counts only after it was read back and confirmed.
    """

    kind: AskKind
    of: Reference | None = None
    unit: str | None = None
    least: float | None = None
    most: float | Reference | None = None
    called: tuple[str, ...] = ()
    instead: tuple[str, ...] = ()
    choices: tuple[str, ...] = ()
    expect: Reference | None = None
    by: str | None = None
    into: str | None = None
    when: str | None = None
    read_back: bool = False


@dataclass(frozen=True, slots=True)
class Compute:
    """Run a named computation and branch on its outcome.

    Args:
        computation: its name.
        inputs: what it is given.
        written: of what it is given the numbers that stand there themselves, each with its unit.
        into: name under which its result is kept.
        because: name under which its reasons are kept, in words, whatever the outcome.
        place: where it is named.
    """

    computation: str
    inputs: tuple[tuple[str, Reference], ...]
    into: str | None
    because: str | None
    place: Place
    written: Mapping[str, Value] = field(default_factory=dict)


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
    arguments: tuple[tuple[str, Reference], ...]
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
    """One step, as written.

    Args:
        name: its name, once in its file.
        place: where it is written.
        notices: the warnings and cautions that are spoken before it.
        say: what is spoken.
        acts: what it has the technician do to the valve.
        action: what it is: a question, a computation, a hold, …
        records: what goes into the record when it is left.
        go: where to go on after which outcome.
        proves: what is known of the valve after which outcome.
        deviation: what goes into the record as a deviation when it is reached.
        tick: ticks a minute that are played after the notices and before `say`, as a pace; None
            for none.
        may_skip: whether it may be passed over for a reason.
        takes_work: whether something has to be done before its question is answered, which `acts`
            does not tell.
        is_gate: whether the job comes back here when something of the gate is missing.
    """

    name: str
    place: Place
    notices: tuple[Notice, ...]
    say: Template | None
    acts: tuple[Act, ...]
    action: Action
    records: tuple[Record, ...]
    go: Mapping[str, Target]
    proves: Mapping[str, tuple[Fact, ...]] = field(default_factory=dict)
    deviation: Template | None = None
    tick: float | None = None
    may_skip: bool = False
    takes_work: bool = False
    is_gate: bool = False

    def does(self, act: ActKind) -> bool:
        """Whether it has this done."""
        return any(one.kind is act for one in self.acts)

    @property
    def agreeing(self) -> str | None:
        """The role of whoever is asked to agree; None where nobody is."""
        match self.action:
            case Ask(kind=AskKind.AGREEMENT, by=by):
                return by
        return None


@dataclass(frozen=True, slots=True)
class Procedure:
    """One file: a procedure, or a part that procedures call.

    Args:
        name: its name.
        title: its title in words.
        revision: its revision.
        about: what it is for.
        inputs: names and kinds of a part's inputs; empty for a procedure.
        papers: names and kinds of what is told about the job before it begins; of a number its
            unit, as in ``{number: turns}``.
        returns: the outcomes with which a part can return; empty where it has only one.
        parts: names of parts and the files they are in, relative to this file.
        steps: the steps, in the order of the file.
        place: where the file begins.
        is_part: whether it may only be called.
        lint: what is set there for the rules of writing, as it stands in the file (see `rules`).
        paper_units: the units of those papers that are numbers.
    """

    name: str
    title: str
    revision: str
    about: str
    inputs: Mapping[str, Kind]
    papers: Mapping[str, Kind]
    returns: tuple[str, ...]
    parts: Mapping[str, Target]
    steps: tuple[Step, ...]
    place: Place
    is_part: bool
    lint: Located | None = None
    paper_units: Mapping[str, str] = field(default_factory=dict)
