"""The values that a job records, as its entries hold them."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from assistant.journal.entry import Entry

__all__ = ["RecordedValue", "recorded_in"]


@dataclass(frozen=True, slots=True)
class RecordedValue:
    """A value in an entry's field `recorded`.

    Args:
        name: its name in the whole program, the parts it was recorded in before it.
        written: as it is written, or in words where it is only spoken; any JSON value.
        unit: its unit where it has one, else None.
        rotor: the rotor that it is of; empty where it is of none.
    """

    name: str
    written: Any
    unit: Any
    rotor: str

    @property
    def short(self) -> str:
        """The last part of its name, which is the same whatever part recorded it."""
        return self.name.rpartition("/")[2]


def recorded_in(entry: Entry) -> Iterator[RecordedValue]:
    """The values that an entry records; what is not of the form that is written is passed over."""
    listed = entry.body.get("recorded")
    for told in listed if isinstance(listed, list) else ():
        match told:
            case {"name": str(name), "value": value}:
                rotor = told.get("rotor")
                yield RecordedValue(
                    name=name,
                    written=value if told.get("written") is None else told["written"],
                    unit=told.get("unit"),
                    rotor=rotor if isinstance(rotor, str) else "",
                )
