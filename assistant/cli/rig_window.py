"""The rig as it is shown at the keyboard: whole when it is asked for, else where it has changed."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from assistant.rehearsal.picture import Look, looked, picture
from assistant.rig.actuator import Actuator

__all__ = ["RigWindow"]


@dataclass(slots=True)
class RigWindow:
    """Prints the rig, and remembers what was seen."""

    _seen: Look | None = None

    def show_whole(self, rig: Actuator) -> None:
        """Print it as it stands."""
        self._seen = looked(rig)
        _print(picture(self._seen, rig.unit))

    def show_changes(self, rig: Actuator) -> bool:
        """Print it if anything of it has changed since it was seen; whether it has."""
        now, before = looked(rig), self._seen
        self._seen = now
        if now == before:
            return False
        _print(picture(now, rig.unit, before))
        return True


def _print(lines: Iterable[str]) -> None:
    for number, line in enumerate(lines):
        print(f"  {'rig' if number == 0 else '':<10} {line}", flush=True)
