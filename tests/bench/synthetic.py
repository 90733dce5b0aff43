"""Spoken phrases of the job in synthetic voices, with and without noise, for the benchmark."""

from __future__ import annotations

import shutil
import subprocess
import tempfile
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import numpy as np

from assistant.language.answers import (
    AskAgreement,
    AskContacts,
    AskDone,
    AskLamps,
    AskNumber,
    AskRotation,
    AskSpelling,
    AskYesNo,
    Question,
)
from assistant.speech import wav
from assistant.speech.ears import SAMPLE_RATE, Samples

__all__ = [
    "COUNTS",
    "LAMPS_AND_AGREEMENTS",
    "PHRASES",
    "SPELLED",
    "VOICES",
    "Phrase",
    "Voice",
    "noise_only",
    "say",
    "with_pink_noise",
]

FIRST, SECOND, TWO = AskContacts((1, 2, 3, 4)), AskContacts((5, 6, 7, 8)), AskContacts((1, 2))
TURNS = AskNumber("turns")
STROKE = AskNumber("turns", most=99)
CHANGE = AskNumber("turns", called=("mark", "full-stop"), instead=("none",), most=99)
LAMPS = AskLamps((("closed lamp", "green"), ("open lamp", "red")))
TECHNICIAN, CHECKER = AskAgreement("technician"), AskAgreement("checker")


@dataclass(frozen=True, slots=True)
class Phrase:
    """A reply and the question that it answers."""

    text: str
    question: Question


PHRASES = (
    Phrase("one and two closed", FIRST),
    Phrase("one closed two closed", FIRST),
    Phrase("both closed", TWO),
    Phrase("one closed two open", FIRST),
    Phrase("one through four open", FIRST),
    Phrase("five and six are open", SECOND),
    Phrase("all four closed", FIRST),
    Phrase("contact five is closed", SECOND),
    Phrase("clockwise", AskRotation()),
    Phrase("counterclockwise", AskRotation()),
    Phrase("anticlockwise", AskRotation()),
    Phrase("yes", AskYesNo()),
    Phrase("no", AskYesNo()),
    Phrase("correct", AskYesNo()),
    Phrase("done", AskDone()),
    Phrase("say again", FIRST),
    Phrase("hold", FIRST),
    Phrase("carry on", AskRotation()),
    Phrase("one and a half turns", TURNS),
    Phrase("twenty five turns", TURNS),
)
"""The twenty phrases of the floor."""

SPELLED = (
    Phrase("kilo foxtrot zero seven", AskSpelling()),
    Phrase("kilo foxtrot one two", AskSpelling()),
)
"""Tags of units; beyond the floor."""

LAMPS_AND_AGREEMENTS = (
    Phrase("open lamp", LAMPS),
    Phrase("closed lamp", LAMPS),
    Phrase("open lamp only", LAMPS),
    Phrase("both lamps lit", LAMPS),
    Phrase("both lamps dark", LAMPS),
    Phrase("red and green", LAMPS),
    Phrase("technician correct", TECHNICIAN),
    Phrase("technician wrong", TECHNICIAN),
    Phrase("checker correct", CHECKER),
    Phrase("checker wrong", CHECKER),
)
"""What is said at the electrical test and to sign; beyond the floor."""

COUNTS = (
    Phrase("two turns", STROKE),
    Phrase("five turns", STROKE),
    Phrase("nine turns", STROKE),
    Phrase("thirteen turns", STROKE),
    Phrase("thirty turns", STROKE),
    Phrase("twelve and a half turns", STROKE),
    Phrase("forty six and a quarter turns", STROKE),
    Phrase("sixty two turns", STROKE),
    Phrase("mark five turns", CHANGE),
    Phrase("mark nine turns", CHANGE),
    Phrase("mark fifteen turns", CHANGE),
    Phrase("mark fifty turns", CHANGE),
    Phrase("full stop sixty two turns", CHANGE),
    Phrase("none", CHANGE),
)
"""Counts of handwheel turns where the stroke is below one hundred; beyond the floor."""


@dataclass(frozen=True, slots=True)
class Voice:
    """A synthetic voice.

    Args:
        engine: ``espeak-ng`` or ``flite``, the command that speaks.
        name: the voice's name there.
    """

    engine: str
    name: str


VOICES = (
    Voice("espeak-ng", "en-us"),
    Voice("espeak-ng", "en-gb"),
    Voice("espeak-ng", "en-us+f3"),
    Voice("flite", "slt"),
    Voice("flite", "awb"),
    Voice("flite", "rms"),
)
"""The voices that are measured; others were used to choose constants."""

_REPLY_RATE = "165"


def say(text: str, voice: Voice) -> Samples:
    """The text in a voice, with 0.3 s of silence at both ends.

    Raises:
        SystemExit: the engine is not installed.
    """
    if shutil.which(voice.engine) is None:
        raise SystemExit(f"{voice.engine} is not installed: apt install espeak-ng flite")
    with tempfile.TemporaryDirectory() as folder:
        file = Path(folder) / "said.wav"
        command = {
            "espeak-ng": ["-v", voice.name, "-s", _REPLY_RATE, "-w", str(file), text],
            "flite": ["-voice", voice.name, "-t", text, "-o", str(file)],
        }
        subprocess.run([voice.engine, *command[voice.engine]], check=True)
        pause = np.zeros(int(0.3 * SAMPLE_RATE), np.float32)
        return np.concatenate([pause, wav.read(file), pause])


def active_level(samples: Samples) -> float:
    """RMS over the 20 ms frames that are within 30 dB of the loudest."""
    frame = SAMPLE_RATE // 50
    power = (samples[: len(samples) // frame * frame].reshape(-1, frame) ** 2).mean(axis=1)
    return float(np.sqrt(power[power > power.max() / 1000].mean()))


def _pink(length: int, seed: int) -> Samples:
    spectrum = np.fft.rfft(np.random.default_rng(seed).standard_normal(length))
    frequency = np.maximum(np.fft.rfftfreq(length, 1 / SAMPLE_RATE), 20.0)
    shaped = np.fft.irfft(spectrum / np.sqrt(frequency), length)
    return np.asarray(shaped / np.sqrt(np.mean(shaped**2)), np.float32)


def with_pink_noise(samples: Samples, ratio: float, seed: int) -> Samples:
    """The samples with pink noise.

    Args:
        samples: speech.
        ratio: active speech over noise [dB].
        seed: which noise.
    """
    level = active_level(samples) * 10 ** (-ratio / 20)
    return samples + np.float32(level) * _pink(len(samples), seed)


def noise_only() -> Iterator[Samples]:
    """Pink noise without speech, from soft to loud and short to long."""
    for seed, level in enumerate((0.001, 0.01, 0.05, 0.2) * 5):
        length = int((0.5 + 0.1 * seed) * SAMPLE_RATE)
        yield np.float32(level) * _pink(length, 900 + seed)
