"""The position lamps by zone of travel: which the drawing wants lit, and which were seen."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from assistant.record.recorded import Recorded, last_named
from assistant.record.words import clean, in_words
from assistant.trade.lamps import lit_in_travel, lit_stopped
from assistant.trade.motion import Travel
from assistant.trade.unit import Unit

__all__ = ["LampZone", "lamp_zones"]


@dataclass(frozen=True, slots=True)
class LampZone:
    """The lamps in one zone.

    Args:
        zone: where the valve stood.
        expected: the lamps that the drawing has lit there.
        seen: the lamps that were seen lit, None where none were recorded.
    """

    zone: str
    expected: tuple[str, ...]
    seen: tuple[str, ...] | None

    @property
    def agrees(self) -> bool | None:
        """Whether the same lamps were seen; None where none were recorded."""
        return None if self.seen is None else set(self.seen) == set(self.expected)


def lamp_zones(unit: Unit, recorded: Sequence[Recorded]) -> Iterator[LampZone]:
    """Mid-travel, and where the electrical stroke stopped at either end."""
    zones = (
        ("in travel", lit_in_travel(unit), "lamps-in-travel"),
        ("closed, stopped by itself", lit_stopped(unit, Travel.CLOSING), "lamps-when-closed"),
        ("open, stopped by itself", lit_stopped(unit, Travel.OPENING), "lamps-when-open"),
    )
    for zone, expected, name in zones:
        yield LampZone(zone, tuple(map(clean, expected)), _seen(last_named(recorded, name)))


def _seen(value: Recorded | None) -> tuple[str, ...] | None:
    match value and value.written:
        case {"lit": list(names)}:
            return tuple(in_words(name) for name in names)
    return None
