"""The job in five lines, and what is still open."""

from __future__ import annotations

from collections.abc import Iterator

from assistant.record.moments import moment
from assistant.record.rotors import RotorResult
from assistant.record.summary import Summary
from assistant.record.words import Field
from assistant.trade.verification import same_person

__all__ = ["five_lines", "open_points"]

_PEOPLE = ("technician", "checker", "second checker")
"""The papers that name a person."""

_ORDER = ("work-order", "work order")

_DAY, _UTC = len("2031-05-14 "), " UTC"

_NOT_AS_PLANNED = {"Deviation": "deviation", "Step skipped": "skipped step"}
"""Remarks that a verdict must name, each in the singular."""


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
    turned = [rotor.name for rotor in job.rotors if any(one.turn for one in rotor.advised)]
    if turned:
        yield f"Rotors set: {', '.join(turned)}."
    elif job.rotors:
        yield "No rotor was set."
    begun, last = moment(job.started), moment(job.ended or job.last_time)
    last = last.removeprefix(begun[:_DAY])
    yield f"{begun.removesuffix(_UTC)} to {last}." if job.ended else f"{begun}; stopped at {last}."


def _verdict(job: Summary) -> str:
    right = job.rotors and not any(map(_trip_open, job.rotors)) and not list(_untouched(job))
    first = "Every rotor within tolerance. " if right else ""
    points = open_points(job)
    return first + (f"Open: {'; '.join(points)}." if points else "Nothing is open.")


def _end(job: Summary) -> Iterator[str]:
    if job.ended is None:
        held = [remark.why for remark in job.remarks if remark.what == "Hold"]
        yield (
            f"the job is not at its end (last hold: {held[-1]})"
            if held
            else ("the job is not at its end")
        )


def _sheet(job: Summary) -> Iterator[str]:
    if job.unit and job.development is None:
        yield "the unit sheet is missing or was changed"


def _trip_open(rotor: RotorResult) -> str | None:
    if rotor.trip is None:
        return f"rotor {rotor.name} not proved by hand"
    return None if rotor.trip.within else f"rotor {rotor.name} out of tolerance"


def _rotor(rotor: RotorResult) -> Iterator[str]:
    if point := _trip_open(rotor):
        yield point
    if rotor.agrees is False:
        yield f"contacts of rotor {rotor.name} not as they were to be left"


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
        number = sum(remark.what == what for remark in job.remarks)
        if number:
            yield f"{number} {word}{'' if number == 1 else 's'}"


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
