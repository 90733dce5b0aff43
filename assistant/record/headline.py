"""The job in five lines, and what is still open."""

from __future__ import annotations

from collections.abc import Iterator, Sized

from assistant.record.line_numbers import lines_in_words
from assistant.record.moments import moment
from assistant.record.remarks import DEVIATION, HOLD, NOTE, SKIPPED
from assistant.record.rotors import RotorResult
from assistant.record.summary import Summary
from assistant.record.words import Field
from assistant.trade.verification import same_person

__all__ = ["five_lines", "open_points"]

_PEOPLE = ("technician", "checker", "second checker")
"""The papers that name a person."""

_ORDER = ("work-order", "work order")

_DAY, _UTC = len("2031-05-14 "), " UTC"

_NOT_AS_PLANNED = {DEVIATION: "deviation", SKIPPED: "skipped step"}
"""Remarks that a verdict must name with their words, each in the singular."""

_SETTINGS = {
    "set": "Rotors set",
    "void": "Set, and void since",
    "begun": "Begun, not set",
    "undone": "To be turned, and gone back over",
    "left": "Left as found",
}

_LONGEST = 90
"""Characters of a remark's words in the verdict; the table has them whole."""

_MOST_TOLD = 3
"""Remarks of a kind of which the verdict has the words."""


def five_lines(job: Summary) -> tuple[Field, ...]:
    """Unit, order, people, what was done, verdict."""
    order = [field.text for field in job.job if field.name in _ORDER]
    people = [f"{field.name} {field.text}" for field in _people(job)]
    return (
        Field("unit", "; ".join(_unit(job))),
        Field("order", ", ".join(order) or "not given"),
        Field("people", ", ".join(people) or "not given"),
        Field("done", " ".join(_done(job))),
        Field("verdict", _verdict(job)),
    )


def open_points(job: Summary) -> tuple[str, ...]:
    """What a reader has to see to; nothing where the job was done as it should be."""
    return (
        *_end(job),
        *_sheet(job),
        *(point for rotor in job.rotors for point in _rotor(rotor)),
        *_untouched(job),
        *_electrical(job),
        *job.disagreements,
        *_remarked(job),
        *_notes(job),
        *_evidence(job),
        *_unsigned(job),
    )


def _people(job: Summary) -> list[Field]:
    return [field for field in job.job if field.name in _PEOPLE]


def _unit(job: Summary) -> Iterator[str]:
    told = {field.name: field.text for field in job.unit}
    yield f"{job.tag}, {job.service}" if job.service else job.tag
    if "drawing" in told:
        revision = f" revision {told['revision']}" if "revision" in told else ""
        yield f"drawing {told['drawing']}{revision}"


def _done(job: Summary) -> Iterator[str]:
    told = {field.name: field.text for field in job.procedure}
    yield f"{told.get('title', 'A procedure without a title')}."
    by_setting: dict[str, list[str]] = {}
    for rotor in job.rotors:
        void = rotor.setting == "set" and rotor.left_void is not None
        by_setting.setdefault("void" if void else rotor.setting, []).append(rotor.name)
    if by_setting and by_setting.keys() <= {"none", "left"}:
        yield "No rotor was set."
    for setting, words in _SETTINGS.items():
        if setting in by_setting:
            yield f"{words}: {', '.join(by_setting[setting])}."
    first, last = moment(job.started), moment(job.ended or job.last_time)
    last = last.removeprefix(first[:_DAY])
    yield f"{first.removesuffix(_UTC)} to {last}." if job.ended else f"{first}; stopped at {last}."


def _verdict(job: Summary) -> str:
    right = job.rotors and not any(map(_trip_open, job.rotors)) and not list(_untouched(job))
    first = ("Every rotor within tolerance.", *_proved_again(job)) if right else ()
    points = open_points(job)
    told = f"Open: {'; '.join(points)}." if points else "Nothing is open."
    return " ".join((*first, told, *_without_voice(job)))


def _proved_again(job: Summary) -> Iterator[str]:
    """That what a free shaft had voided counts again, where every rotor was proved since."""
    if job.lost is not None:
        again = sorted(rotor.proved_at for rotor in job.rotors if rotor.proved_at is not None)
        why = f"{job.lost.why[:1].upper()}{job.lost.why[1:]}"
        since = f"every rotor was proved again since, {lines_in_words(again)}"
        yield f"{why}, line {job.lost.line}; {since}."


def _without_voice(job: Summary) -> Iterator[str]:
    """That confirmations cannot be heard, where some cannot."""
    confirmed = [row for row in job.exchanges if row.confirmed]
    silent = [row for row in confirmed if row.clip is None]
    if silent and len(silent) < len(confirmed):
        verbs = ("was", "has") if len(silent) == 1 else ("were", "have")
        number = _number(silent, "confirmation")
        yield f"{number} {verbs[0]} typed or {verbs[1]} no recording."
    elif silent:
        typed = all(row.engine == "typed" for row in silent)
        yield "The whole job was typed." if typed else "No confirmation has a recording."


def _end(job: Summary) -> Iterator[str]:
    if job.ended is None:
        held = [remark.why for remark in job.remarks if remark.what == HOLD and job.held]
        yield f"the job is not at its end{f' (on hold: {held[-1]})' if held else ''}"


def _sheet(job: Summary) -> Iterator[str]:
    if job.unit and job.development is None:
        yield "the unit sheet is missing or was changed"


def _trip_open(rotor: RotorResult) -> str | None:
    if rotor.void is not None:
        since = f"since line {rotor.void.line} ({rotor.void.why})"
        return f"rotor {rotor.name} not proved by hand {since}"
    if rotor.trip is None:
        return f"rotor {rotor.name} not proved by hand"
    return None if rotor.trip.within else f"rotor {rotor.name} out of tolerance"


def _rotor(rotor: RotorResult) -> Iterator[str]:
    if point := _trip_open(rotor):
        yield point
    if rotor.agrees is False:
        yield f"contacts of rotor {rotor.name} not as they were to be left"
    if rotor.undone is not None:
        first, lines = rotor.undone.found, lines_in_words(rotor.undone.lines)
        yield (
            f"rotor {rotor.name}: its shaft was to be turned at {lines}, which was gone back over"
            f"{f' (as found first: {first.percent:.2f} %)' if first else ''}"
        )


def _untouched(job: Summary) -> Iterator[str]:
    """The rotors of the drawing of which the journal tells nothing."""
    known = {rotor.name for rotor in job.rotors}
    for drawn in job.development.rotors if job.development and job.rotors else ():
        if drawn.name not in known:
            yield f"rotor {drawn.name} not proved by hand"


def _electrical(job: Summary) -> Iterator[str]:
    """What the electrical test left open; a job without one leaves nothing."""
    tested = any(zone.seen is not None for zone in job.lamps)
    for zone in job.lamps:
        if zone.agrees is False:
            yield f"lamps {zone.zone} not as drawn"
        elif tested and zone.seen is None:
            yield f"lamps {zone.zone} not recorded"
    if job.stroke is not None and job.stroke.within is False:
        yield "stroke time out of tolerance"


def _remarked(job: Summary) -> Iterator[str]:
    for what, word in _NOT_AS_PLANNED.items():
        found = [remark for remark in job.remarks if remark.what == what]
        told = [f"“{_short(remark.why)}”, line {remark.seq}" for remark in found[:_MOST_TOLD]]
        if len(found) > len(told):
            told.append(f"and {len(found) - len(told)} more")
        if found:
            yield f"{_number(found, word)} ({', '.join(told)})"


def _notes(job: Summary) -> Iterator[str]:
    notes = [remark.seq for remark in job.remarks if remark.what == NOTE]
    if notes:
        yield f"{_number(notes, 'note')} to read, {lines_in_words(notes)}"


def _evidence(job: Summary) -> Iterator[str]:
    """What was kept of the job and is not as it was."""
    if job.lost_clips:
        lost = lines_in_words(job.lost_clips)
        yield f"{_number(job.lost_clips, 'recording')} missing or changed, {lost}"
    yield from job.signature_faults


def _number(found: Sized, word: str) -> str:
    return f"{len(found)} {word}{'' if len(found) == 1 else 's'}"


def _short(words: str) -> str:
    """The words without their last full stop, cut where they are long."""
    whole = words.removesuffix(".")
    if len(whole) <= _LONGEST:
        return whole
    return f"{whole[:_LONGEST].rpartition(' ')[0] or whole[:_LONGEST]}…"


def _unsigned(job: Summary) -> Iterator[str]:
    """Who had to sign a job that is at its end, by its procedure and its papers, and did not."""
    if job.ended is None:
        return
    if job.due is None:
        yield "the procedure is missing or was changed: it is not known who has to sign"
    for due in job.due or ():
        signed = [signature.name for signature in job.signatures if signature.role == due.role]
        if not signed:
            yield f"not signed by {due.role} {due.person}"
        elif not any(same_person(name, due.person) for name in signed):
            yield f"signed as {due.role} by {', '.join(signed)}, who is not {due.person}"
