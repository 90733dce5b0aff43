"""Who signed, when, and with which meaning, and who had to.

A signature shows the name, the date and time, and what it means (21 CFR 11.50). This program only
records that somebody said so: the site's own papers are signed by hand.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from assistant.journal.clips import SOUNDLESS
from assistant.journal.entry import Entry
from assistant.procedure.program import Program
from assistant.procedure.record_names import SIGNED, signs, time_of
from assistant.record.recorded import Recorded
from assistant.record.words import clean, in_words, mapping_of, texts_of

__all__ = ["Due", "Signature", "due_in", "people_due", "signatures_of"]

_LOST = "recording missing or changed"

_REVIEWERS = {"reviewed": "reviewer", "compared": "independent checker"}


@dataclass(frozen=True, slots=True)
class Signature:
    """A signature, mostly by voice.

    Args:
        seq: number of the entry.
        name: of the person, as it was spelled.
        role: in which the person signed, "technician"; empty where the journal does not say.
        meaning: what is signed for, "done".
        asked: the question that was answered, in full.
        time: when it was signed, RFC 3339.
        kept: how it is kept: "voice", "typed", "pressed", "recording missing or changed", or "no
            recording".
    """

    seq: int
    name: str
    role: str
    meaning: str
    asked: str
    time: str
    kept: str


@dataclass(frozen=True, slots=True)
class Due:
    """A signature that a procedure demands.

    Args:
        role: who has to say that it is correct.
        person: who that is by the papers, or the name of the paper that says so.
    """

    role: str
    person: str


def due_in(program: Program) -> tuple[Due, ...]:
    """The signatures that a procedure demands, each with the paper that names the person."""
    found = (
        Due(role, node.scope.absolute(record.value.path[0]))
        for node in program.nodes.values()
        if (role := node.step.agreeing)
        for record in node.step.records
        if signs(record.name)
    )
    return tuple(dict.fromkeys(found))


def people_due(due: Sequence[Due], papers: Mapping[str, Any]) -> Iterator[Due]:
    """The same with the persons that the papers of a job name."""
    for one in due:
        yield Due(clean(one.role), in_words(papers.get(one.person)))


def signatures_of(
    entries: Sequence[Entry], recorded: Sequence[Recorded], lost_clips: Collection[int]
) -> Iterator[Signature]:
    """Each signature that counts, in the order of the journal: verdicts follow the job.

    Args:
        entries: of the journal.
        recorded: its values.
        lost_clips: the lines whose recording is missing or was changed.
    """
    asked = _questions(entries)
    kept = {entry.seq: _LOST if entry.seq in lost_clips else _kept(entry) for entry in entries}
    roles = {entry.seq: role for entry in entries if (role := _role(entry)) is not None}
    times = {value.name: value for value in recorded if value.counts}
    for value in recorded:
        if value.counts and signs(value.short) and value.seq in roles:
            at = times.get(time_of(value.name))
            yield Signature(
                seq=value.seq,
                name=value.value,
                role=roles[value.seq],
                meaning=value.short.removeprefix(SIGNED).replace("-", " "),
                asked=asked.get(value.seq, ""),
                time=value.time if at is None else at.value,
                kept=kept[value.seq],
            )
    yield from _verdicts(entries)


def _role(entry: Entry) -> str | None:
    """The role in which something was agreed to; None where it was refused, which signs nothing."""
    for answer in mapping_of(entry.body.get("confirmed")).values():
        match answer:
            case {"agrees": False}:
                return None
            case {"role": str(role), "agrees": True}:
                return clean(role)
    return ""


def _verdicts(entries: Sequence[Entry]) -> Iterator[Signature]:
    """Who heard the job or checked it independently, with the meaning of that."""
    for entry in entries:
        if entry.kind in _REVIEWERS:
            yield Signature(
                seq=entry.seq,
                name=in_words(entry.body.get("by")),
                role=_REVIEWERS[entry.kind],
                meaning=": ".join((in_words(entry.body.get("meaning")), *_counts(entry))),
                asked="",
                time=entry.time,
                kept=_kept(entry),
            )


def _counts(entry: Entry) -> Iterator[str]:
    """How many confirmations, or points, a second person agreed on, and how many not."""
    match entry.body:
        case {"agreed": int(agreed), "disagreed": int(disagreed)}:
            yield f"{agreed} agreed, {disagreed} disagreed"
        case {"points": list(points)}:
            verdicts = [mapping_of(point).get("agrees") for point in points]
            yield f"{verdicts.count(True)} the same, {verdicts.count(False)} not"


def _kept(entry: Entry) -> str:
    """How what was said is kept, if its recording is as it was."""
    if entry.clip is not None:
        return "voice"
    engine = mapping_of(entry.body.get("heard")).get("engine")
    return str(engine) if engine in SOUNDLESS else "no recording"


def _questions(entries: Sequence[Entry]) -> dict[int, str]:
    """For each entry what was said last before it."""
    asked: dict[int, str] = {}
    last = ""
    for entry in entries:
        asked[entry.seq] = last
        last = next(reversed(texts_of(entry.body.get("said"))), last)
    return asked
