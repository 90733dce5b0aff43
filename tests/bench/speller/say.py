"""Have the lessons said: ``python -m tests.bench.speller.say ENGINE --into FOLDER``.

Each engine's sentences go to a file of their own, so that engines can run side by side; the sound
is kept plain, and is spoiled anew each time that it is learnt.
"""

from __future__ import annotations

import argparse
import pickle
import random
from collections.abc import Callable, Iterator, Mapping
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from assistant.speech.ears import Samples
from tests.bench.engines import ENGINES, spoken_by, spoken_by_chance, spoken_by_mixture
from tests.bench.speller.texts import texts

__all__ = ["Plain", "plain", "said"]

Plain = tuple[str, NDArray[np.int16]]
"""A text, and how it sounds."""

ACCENTS = (
    "en-us",
    "en-gb",
    "en-gb-x-rp",
    "en-gb-scotland",
    "en-029",
    "en-gb-x-gbclan",
    "en-gb-x-gbcwmd",
    "en-us-nyc",
)

VARIANTS = (
    *(f"m{number}" for number in range(1, 9)),
    *("f1", "f2", "f4", "f5", "klatt", "klatt2", "klatt3", "croak", "Denis", "Andrea"),
    *("Mario", "steph", "Storm", "Annie", "belinda", "grandma"),
)

KOKORO = (
    *("af_aoede", "af_bella", "af_heart", "af_jessica", "af_kore", "af_nicole", "af_river"),
    *("af_sarah", "af_sky", "am_echo", "am_eric", "am_fenrir", "am_liam", "am_michael"),
    *("am_onyx", "am_santa", "bf_emma", "bf_lily", "bm_fable", "bm_george"),
    *("em_alex", "em_santa", "ff_siwis", "hf_alpha", "hm_omega", "if_sara", "im_nicola"),
    *("jf_gongitsune", "jf_nezumi", "jf_tebukuro", "pf_dora", "pm_alex", "pm_santa"),
    *("zf_xiaobei", "zf_xiaoni", "zf_xiaoxiao", "zm_yunjian", "zm_yunxi", "zm_yunxia"),
)
"""Its speakers that are neither in the test part nor strangers: American, British, and of seven
other countries."""

MIXED = (1, 1, 2, 3)
"""Of how many of them a speaker is mixed."""

SAID: Mapping[str, int] = {
    "espeak-ng": 8_000,
    "hibari": 2_000,
    "flite": 500,
    "festival": 300,
    "kokoro": 2_000,
}
"""How many texts each engine says."""

LONGEST = 8 * 16_000
"""Samples; what takes longer is left out."""


def said(engine: str, seed: int) -> Iterator[Plain]:
    """Text after text, said by an engine.

    Args:
        engine: a key of `SAID`.
        seed: which draw of texts and voices.
    """
    chance = random.Random(f"{engine} {seed}")
    for text in texts(chance):
        samples = SPEAKERS[engine](text, chance)
        if 0 < len(samples) <= LONGEST and samples.any():
            loudest = float(np.abs(samples).max())
            yield text, (samples * (16_000 / loudest)).astype(np.int16)


def plain(folder: Path) -> dict[str, list[Plain]]:
    """Everything that was said and kept in a folder, by engine."""
    files = {engine: sorted(folder.glob(f"{engine}-[0-9]*.pickle")) for engine in SAID}
    return {
        engine: [one for file in kept for one in _read(file)]
        for engine, kept in files.items()
        if kept
    }


def _read(file: Path) -> list[Plain]:
    with file.open("rb") as kept:
        return list(pickle.load(kept))


def _espeak(text: str, chance: random.Random) -> Samples:
    voice = f"{chance.choice(ACCENTS)}+{chance.choice(VARIANTS)}"
    pace, pitch = str(chance.randint(120, 200)), str(chance.randint(20, 80))
    return spoken_by("espeak-ng", "-v", voice, "-s", pace, "-p", pitch, "-w", "FILE", text)


SPEAKERS: Mapping[str, Callable[[str, random.Random], Samples]] = {
    "espeak-ng": _espeak,
    "hibari": spoken_by_chance,
    "flite": lambda text, chance: ENGINES["flite"]("kal16", text),
    "festival": lambda text, chance: ENGINES["festival"]("kal_diphone", text),
    "kokoro": lambda text, chance: spoken_by_mixture(
        chance.sample(KOKORO, chance.choice(MIXED)), text, chance
    ),
}


def main() -> None:
    """Say and keep."""
    options = argparse.ArgumentParser(description=__doc__.splitlines()[0] if __doc__ else "")
    options.add_argument("engine", choices=SAID)
    options.add_argument("--into", type=Path, required=True, help="folder")
    options.add_argument("--seed", type=int, default=0)
    options.add_argument("--count", type=int, help="texts; by default as many as SAID tells")
    chosen = options.parse_args()
    count = chosen.count or SAID[chosen.engine]
    kept = [one for _, one in zip(range(count), said(chosen.engine, chosen.seed), strict=False)]
    chosen.into.mkdir(parents=True, exist_ok=True)
    file = chosen.into / f"{chosen.engine}-{chosen.seed}.pickle"
    file.write_bytes(pickle.dumps(kept))


if __name__ == "__main__":
    main()
