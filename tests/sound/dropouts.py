"""A headset that is unplugged in a job, and plugged in again."""

from __future__ import annotations

import random
import time
from dataclasses import dataclass, field

from tests.sound.server import SoundServer

__all__ = ["Dropouts"]

LASTING = 3.0
"""Seconds: longer than it takes to notice."""

LATEST = 2.5
"""Seconds after something was asked: in mid-prompt, or while an answer is waited for."""


@dataclass(slots=True)
class Dropouts:
    """Unplugs the headset at every second question, at a random moment of it.

    Args:
        server: whose devices they are.
        times: how often.
    """

    server: SoundServer
    times: int
    made: int = 0
    _asked: int = 0
    _chance: random.Random = field(default_factory=lambda: random.Random(1))

    def asked(self) -> bool:
        """Drop out, if it is time, and come back; whether that was done."""
        self._asked += 1
        if self.made >= self.times or self._asked % 2:
            return False
        time.sleep(self._chance.uniform(0.0, LATEST))
        self.server.unplug()
        time.sleep(LASTING)
        self.server.plug_in()
        self.made += 1
        return True
