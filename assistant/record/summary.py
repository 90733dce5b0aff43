"""What the entries of a journal say about the job.

Pure: entries in, a `Summary` of plain texts out. Fields that are missing, or not of the form that
this program writes, are left out of the summary or shown as they stand; they never stop it.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from assistant.journal.entry import Entry
from assistant.journal.proofs import Proofs, Void
from assistant.journal.root_words import words_of
from assistant.journal.tree import root
from assistant.journal.verdicts import open_disagreements
from assistant.procedure.deeds import Fact
from assistant.record.beside import Beside
from assistant.record.cautions import Caution, cautions_of
from assistant.record.comparisons import Comparison, comparisons_of
from assistant.record.development import Picture, picture
from assistant.record.lamps import LampZone, lamp_zones
from assistant.record.recorded import Recorded, recorded_of
from assistant.record.remarks import Remark, remarks_of
from assistant.record.rotors import Advised, RotorResult, Trip, rotors_of
from assistant.record.signatures import Due, Signature, people_due, signatures_of
from assistant.record.stroke import StrokeTime, stroke_time
from assistant.record.words import (
    Field,
    clean,
    fields_of,
    in_words,
    mapping_of,
    number_of,
    texts_of,
)
from assistant.trade.unit import Unit

__all__ = [
    "Advised",
    "Caution",
    "Exchange",
    "Field",
    "LampZone",
    "Recorded",
    "Remark",
    "RotorResult",
    "Signature",
    "Source",
    "Stated",
    "StrokeTime",
    "Summary",
    "Trip",
    "in_words",
    "summarise",
]


@dataclass(frozen=True, slots=True)
class Source:
    """A file that the job ran from, and its SHA-256."""

    file: str
    sha256: str


@dataclass(frozen=True, slots=True)
class Stated:
    """A number of the unit sheet, and where it comes from."""

    name: str
    value: str
    origin: str


@dataclass(frozen=True, slots=True)
class Exchange:
    """What was heard at a step, what came of it, and what the program said then."""

    seq: int
    time: str
    step: str
    heard: str | None
    silent: bool
    confidence: float | None
    engine: str
    clip: str | None
    meant: str | None
    rival: str | None
    confirmed: tuple[Field, ...]
    said: tuple[str, ...]

    @property
    def day(self) -> str:
        """The date, in UTC."""
        return self.time[:10]

    @property
    def clock(self) -> str:
        """The time of day, in UTC, to the second."""
        return self.time[11:19]


@dataclass(frozen=True, slots=True)
class Summary:
    """The job as its journal tells it.

    Args:
        service: what the valve does, empty without a unit sheet.
        ended: when the job ended, None where it was not finished.
        development: the picture of the contact development; None without a unit sheet.
        lamps: each zone with what was expected and seen; empty without a unit sheet.
        due: the signatures that the procedure demands; None where it is not known.
        comparisons: with independent checks, point by point.
        disagreements: what a second person does not agree with and nothing has cleared.
        stroke: the stroke time; None where none was recorded, or without a unit sheet.
        last_hash: SHA-256 of the journal's last line without its newline.
        root: of the hash tree over every line.
        root_words: four words that stand for the root.
        key_signatures: those of the root by people's keys that lie beside the journal and are
            right, each with the lines that it covers.
        signature_faults: the others, each with what is wrong.
        lost_clips: the lines whose recording is missing or was changed.
        known: what is known of the valve at the journal's last line, by the names of the facts;
            None where that is not known.
        held: whether the job is on hold there; False where that is not known.
        lost: where every proof became void last; None where none did by a shaft that was free.
    """

    service: str
    job: tuple[Field, ...]
    unit: tuple[Field, ...]
    procedure: tuple[Field, ...]
    numbers: tuple[Stated, ...]
    sources: tuple[Source, ...]
    program: str
    started: str
    last_time: str
    ended: str | None
    rotors: tuple[RotorResult, ...]
    development: Picture | None
    lamps: tuple[LampZone, ...]
    stroke: StrokeTime | None
    due: tuple[Due, ...] | None
    signatures: tuple[Signature, ...]
    disagreements: tuple[str, ...]
    comparisons: tuple[Comparison, ...]
    cautions: tuple[Caution, ...]
    recorded: tuple[Recorded, ...]
    remarks: tuple[Remark, ...]
    exchanges: tuple[Exchange, ...]
    entries: int
    last_hash: str
    root: str
    root_words: tuple[str, ...]
    key_signatures: tuple[tuple[Field, ...], ...]
    signature_faults: tuple[str, ...]
    lost_clips: tuple[int, ...]
    known: tuple[str, ...] | None
    held: bool
    lost: Void | None

    @property
    def tag(self) -> str:
        """The unit's tag."""
        return next((field.text for field in self.unit if field.name == "tag"), "unit unknown")


_SILENCE = ("silence", "silent")

_NOTHING_BESIDE = Beside()


def summarise(
    entries: Sequence[Entry],
    unit: Unit | None = None,
    due: Sequence[Due] | None = (),
    beside: Beside = _NOTHING_BESIDE,
) -> Summary:
    """Draw the summary from the entries of a sound journal.

    Args:
        entries: the first one first.
        unit: the sheet that the job ran from; without it there is no picture of the contact
            development, and lamps and times are not compared with the data.
        due: the signatures that the procedure demands; None where it is not known.
        beside: what lies beside the journal.

    Raises:
        ValueError: there are no entries.
    """
    if not entries:
        raise ValueError("a journal without entries has nothing to show")
    first, last = entries[0], entries[-1]
    proofs = Proofs(entries, beside.locked)
    recorded = tuple(recorded_of(entries, proofs))
    rotors = tuple(rotors_of(entries, proofs, _stroke_turns(first)))
    tree = root(entry.line for entry in entries)
    job = mapping_of(first.body.get("job"))
    return Summary(
        service="" if unit is None else clean(unit.service),
        job=_job(job),
        unit=fields_of(first.body.get("unit"), "tag", "drawing", "revision"),
        procedure=fields_of(first.body.get("procedure"), "title", "name", "revision"),
        numbers=tuple(_stated(first.body.get("numbers"))),
        sources=tuple(Source(f.name, f.text) for f in fields_of(first.body.get("sources"))),
        program=in_words(first.body.get("program", "")),
        started=first.time,
        last_time=last.time,
        ended=next((entry.time for entry in entries if entry.is_end), None),
        rotors=rotors,
        development=None if unit is None else picture(unit, rotors),
        lamps=() if unit is None else tuple(lamp_zones(unit, recorded)),
        stroke=None if unit is None else stroke_time(unit, recorded),
        due=None if due is None else tuple(people_due(due, mapping_of(job.get("papers")))),
        signatures=tuple(signatures_of(entries, recorded, beside.lost_clips)),
        disagreements=tuple(
            clean(f"{one.by} does not agree with {one.what}; to clear it, {one.to_clear}")
            for one in open_disagreements(entries)
        ),
        comparisons=tuple(comparisons_of(entries)),
        cautions=cautions_of(entries),
        recorded=recorded,
        remarks=tuple(remarks_of(entries)),
        exchanges=tuple(_exchange(entry) for entry in entries if _is_exchange(entry)),
        entries=len(entries),
        last_hash=last.hash,
        root=tree,
        root_words=words_of(tree),
        key_signatures=beside.key_signatures,
        signature_faults=beside.signature_faults,
        lost_clips=beside.lost_clips,
        known=None if beside.known is None else tuple(f for f in Fact if f in beside.known),
        held=beside.held,
        lost=proofs.lost,
    )


def _stroke_turns(first: Entry) -> float | None:
    numbers = mapping_of(first.body.get("numbers"))
    turns = number_of(mapping_of(numbers.get("stroke-turns")).get("value"))
    return turns if turns is not None and turns > 0 else None


def _is_exchange(entry: Entry) -> bool:
    return entry.kind in _SILENCE or any(
        entry.body.get(name) for name in ("said", "heard", "meant", "confirmed", "clip")
    )


def _exchange(entry: Entry) -> Exchange:
    heard = mapping_of(entry.body.get("heard"))
    confidence = heard.get("confidence")
    clip = mapping_of(entry.body.get("clip")).get("file")
    return Exchange(
        seq=entry.seq,
        time=entry.time,
        step=in_words(entry.body.get("step", "")),
        heard=in_words(heard.get("text", "")) if heard else None,
        silent=entry.kind in _SILENCE,
        confidence=float(confidence) if isinstance(confidence, int | float) else None,
        engine=in_words(heard.get("engine", "")),
        clip=clip if isinstance(clip, str) else None,
        meant=_given(entry, "meant"),
        rival=_given(entry, "other") or _given(entry, "rival"),
        confirmed=fields_of(entry.body.get("confirmed")),
        said=texts_of(entry.body.get("said")),
    )


def _given(entry: Entry, name: str) -> str | None:
    value = entry.body.get(name)
    return None if value is None else in_words(value)


def _job(job: Mapping[str, Any]) -> tuple[Field, ...]:
    """What is known of the job, its papers first."""
    others = {name: value for name, value in job.items() if name != "papers"}
    return (*fields_of(job.get("papers")), *fields_of(others))


def _stated(value: Any) -> Iterator[Stated]:
    for name, number in mapping_of(value).items():
        told = mapping_of(number)
        quantity = {"number": told.get("value"), "unit": told.get("unit")}
        origin = in_words(told.get("origin"))
        yield Stated(clean(name).replace("-", " "), in_words(quantity), origin)
