"""The synthetic voices of the benchmark and what they say, kept on disk.

No voice is in both parts, and no speaker: flite's ``slt`` and festival's ``cmu_us_slt_arctic_hts``
are one person, and so are the voices called ``kal``.
"""

from __future__ import annotations

import hashlib
import os
from dataclasses import dataclass, field
from pathlib import Path

import numpy as np

from assistant.speech import wav
from assistant.speech.ears import SAMPLE_RATE, Samples
from tests.bench.engines import ENGINES, EngineMissing
from tests.bench.parts import Part

__all__ = ["FORMER", "VOICES", "Speakers", "Voice"]

PAUSE = 0.3
"""Seconds of silence at both ends of what is said."""


@dataclass(frozen=True, slots=True)
class Voice:
    """A synthetic voice.

    Args:
        engine: one of `ENGINES`.
        name: the voice's name there.
    """

    engine: str
    name: str

    def __str__(self) -> str:
        return f"{self.engine} {self.name}"


FORMER = (
    Voice("espeak-ng", "en-us"),
    Voice("espeak-ng", "en-gb"),
    Voice("espeak-ng", "en-us+f3"),
    Voice("flite", "slt"),
    Voice("flite", "awb"),
    Voice("flite", "rms"),
)
"""The six in which the first figures were measured."""

VOICES = {
    Part.DEVELOPMENT: (
        Voice("espeak-ng", "en-gb-scotland"),
        Voice("espeak-ng", "en-gb-x-rp+m3"),
        Voice("espeak-ng", "en-029"),
        Voice("espeak-ng", "en-us-nyc+f2"),
        Voice("espeak-ng", "en-gb-x-gbcwmd+m7"),
        Voice("flite", "kal16"),
        Voice("festival", "kal_diphone"),
        Voice("hibari", "heart"),
        Voice("kokoro", "jf_tebukuro"),
        Voice("kokoro", "jf_nezumi"),
    ),
    Part.TEST: (
        *FORMER,
        Voice("festival", "ked_diphone"),
        Voice("festival", "cmu_us_slt_arctic_hts"),
        Voice("piper", "joe"),
        Voice("kokoro", "jf_alpha"),
        Voice("kokoro", "jm_kumo"),
    ),
}
"""American, British (Received Pronunciation, Scottish, Lancaster, West Midlands), Caribbean and
Japanese-accented English; three networks, which sound natural, among them."""


@dataclass(slots=True)
class Speakers:
    """Say things, and keep what was said.

    Args:
        folder: where the sound is kept between runs; it may be deleted at any time.
        missing: engines and voices that turned out not to be installed.
    """

    folder: Path
    missing: set[str] = field(default_factory=set)

    def say(self, text: str, voice: Voice) -> Samples:
        """The text in a voice, with `PAUSE` at both ends.

        Raises:
            EngineMissing: it has not been said before and its engine is not installed.
        """
        digest = hashlib.sha256(f"{voice}\n{text}".encode()).hexdigest()[:24]
        file = self.folder / f"{digest}.wav"
        if not file.exists():
            self.folder.mkdir(parents=True, exist_ok=True)
            # Under a name of its own first, so that a run that is stopped leaves no half file, and
            # two that run at once do not write the same one.
            begun = file.with_suffix(f".{os.getpid()}.part")
            wav.write(begun, ENGINES[voice.engine](voice.name, text))
            begun.replace(file)
        pause = np.zeros(int(PAUSE * SAMPLE_RATE), np.float32)
        return np.concatenate([pause, wav.read(file), pause])

    def able(self, voices: tuple[Voice, ...]) -> tuple[Voice, ...]:
        """Those of the voices whose engine is installed; the others are kept in `missing`."""
        return tuple(voice for voice in voices if self._can(voice))

    def _can(self, voice: Voice) -> bool:
        try:
            ENGINES[voice.engine](voice.name, "yes")  # what was kept would not show a lack
        except EngineMissing as lack:
            self.missing.add(str(lack))
            return False
        return True
