"""Compare a job with the independent check of it, point by point.

Another person has taken the same readings anew, later and apart; see
`assistant.trade.verification` for when that counts as independent.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from assistant.journal.entry import Entry
from assistant.journal.standing import standing
from assistant.trade.unit import Unit
from assistant.trade.verification import Visit

__all__ = ["Difference", "differences", "visit_of"]


@dataclass(frozen=True, slots=True)
class Difference:
    """One point that was compared.

    Args:
        what: what was read.
        first: as the job has it; None where it was not read.
        second: as the check has it; None where it was not read.
        agrees: whether they are the same, within tolerance.
    """

    what: str
    first: str | None
    second: str | None
    agrees: bool

    def as_json(self) -> dict[str, Any]:
        """As it stands in the journal."""
        return {
            "what": self.what,
            "first": self.first,
            "second": self.second,
            "agrees": self.agrees,
        }


def visit_of(entries: Sequence[Entry], person: str) -> Visit:
    """When a job was done, by whom, and whether that person had seen the other's readings.

    Args:
        entries: of the job, at least one.
        person: the name of the paper that holds the person.

    Raises:
        ValueError: the job does not say who did it.
    """
    papers = _papers(entries)
    if person not in papers:
        raise ValueError(f"the job does not say who the {person} was")
    events = [entry for entry in entries if "step" in entry.body]
    return Visit(
        person=str(papers[person]),
        begun=entries[0].time,
        ended=events[-1].time if events else entries[0].time,
        had_seen=_said_seen(entries),
    )


def differences(
    unit: Unit, first: Sequence[Entry], second: Sequence[Entry]
) -> tuple[Difference, ...]:
    """Compare where each rotor was left with where it was found by the check, and what is on it.

    Args:
        unit: the unit sheet of the job.
        first: the job.
        second: the independent check.
    """
    return (*_headings(first, second), *_trips(unit, first, second))


def _headings(first: Sequence[Entry], second: Sequence[Entry]) -> Iterator[Difference]:
    for name in ("tag", "drawing", "revision"):
        told = [_text(entries[0].body.get("unit"), name) for entries in (first, second)]
        yield Difference(name, told[0], told[1], told[0] == told[1])


def _trips(unit: Unit, first: Sequence[Entry], second: Sequence[Entry]) -> Iterator[Difference]:
    left, checked = _trip_of(first, "as-left"), _trip_of(second, "trip-as-checked")
    for rotor in unit.rotors:
        one, other = left.get(rotor.name), checked.get(rotor.name)
        agrees = one is not None and other is not None and abs(one - other) <= unit.tolerance.value
        yield Difference(f"trip of the {rotor.name} rotor", _percent(one), _percent(other), agrees)


def _trip_of(entries: Sequence[Entry], name: str) -> dict[str, float]:
    """The last trip recorded under a name that still counts, for each rotor, in percent."""
    found: dict[str, float] = {}
    for entry in standing(entries):
        listed = entry.body.get("recorded")
        for value in listed if isinstance(listed, list) else ():
            match value:
                case {
                    "name": str(full),
                    "rotor": str(rotor),
                    "written": {"percent": int() | float() as percent},
                } if full.rpartition("/")[2] == name:
                    found[rotor] = float(percent)
    return found


def _percent(value: float | None) -> str | None:
    return None if value is None else f"{value:g} %"


def _papers(entries: Sequence[Entry]) -> Mapping[str, Any]:
    match entries[0].body.get("job"):
        case {"papers": dict(papers)}:
            return papers
    return {}


def _text(value: Any, name: str) -> str | None:
    return str(value[name]) if isinstance(value, Mapping) and name in value else None


def _said_seen(entries: Sequence[Entry]) -> bool:
    """Whether the person said to have seen the first readings; the last answer counts."""
    answers = [
        confirmed["apart"]
        for entry in entries
        if isinstance(confirmed := entry.body.get("confirmed"), Mapping) and "apart" in confirmed
    ]
    return bool(answers) and answers[-1] == {"command": "yes"}
