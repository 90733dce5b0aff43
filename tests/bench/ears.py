"""The recognisers that are compared: ours, and baselines that are installed for the benchmark."""

from __future__ import annotations

import importlib
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from assistant.language.grammar import Grammar
from assistant.language.recognition import Recognition
from assistant.speech.ears import SAMPLE_RATE, Recogniser, Samples
from assistant.speech.errors import ModelError
from assistant.speech.moonshine.encoder_decoder import EncoderDecoder
from assistant.speech.moonshine.pieces import Pieces
from assistant.speech.moonshine.recogniser import Moonshine
from assistant.speech.moonshine.rival import FreeRival
from assistant.speech.vosk_recogniser import Vosk
from tests.bench.pocketsphinx_ear import PocketSphinx

__all__ = ["EARS", "Absent", "FreeMoonshine", "Models", "load"]


class Absent(Exception):  # noqa: N818 - it says what is the matter
    """A recogniser cannot take part, and why."""


@dataclass(frozen=True, slots=True)
class Models:
    """Where models are.

    Args:
        moonshine: folder of the default recogniser's model.
        cache: folder of its prior of non-speech; None to compute it anew.
        vosk: folder of a Vosk model, if there is one.
        whisper: folder of a faster-whisper model (tiny), if there is one.
    """

    moonshine: Path
    cache: Path | None = None
    vosk: Path | None = None
    whisper: Path | None = None


class FreeMoonshine:
    """The same model without a grammar: what it writes is parsed by ours."""

    name = "free"

    def __init__(self, folder: Path) -> None:
        self._graphs = EncoderDecoder(folder)
        self._pieces = Pieces.load(folder / "tokenizer.bin")

    def recognise(self, samples: Samples, grammar: Grammar) -> Recognition:
        """What is written freely, and what the grammar makes of it."""
        written = FreeRival(self._graphs.decode(self._graphs.encode(samples))).whole()
        return _parsed(self._pieces.text(written.tokens), samples, grammar, self.name)


class FasterWhisper:
    """Whisper by faster-whisper, free, with the words of the grammar as a hint."""

    name = "whisper"

    def __init__(self, folder: Path) -> None:
        library: Any = importlib.import_module("faster_whisper")
        self._model = library.WhisperModel(str(folder), device="cpu", compute_type="int8")

    def recognise(self, samples: Samples, grammar: Grammar) -> Recognition:
        """What is written, and what the grammar makes of it."""
        hint = " ".join(sorted(grammar.vocabulary()))
        found, _ = self._model.transcribe(samples, language="en", beam_size=5, initial_prompt=hint)
        text = " ".join(one.text.strip() for one in found)
        return _parsed(text, samples, grammar, self.name)


def _parsed(text: str, samples: Samples, grammar: Grammar, name: str) -> Recognition:
    meaning = grammar.parse(text) if text else None
    certain = 0.0 if meaning is None else 1.0
    return Recognition(text, meaning, certain, len(samples) / SAMPLE_RATE, name)


def _vosk(models: Models) -> Recogniser:
    if models.vosk is None:
        raise Absent("vosk: name the folder of a model with --vosk")
    return Vosk.load(models.vosk)


def _whisper(models: Models) -> Recogniser:
    if models.whisper is None:
        raise Absent("whisper: name the folder of a faster-whisper model with --whisper")
    return FasterWhisper(models.whisper)


EARS: dict[str, Callable[[Models], Recogniser]] = {
    "ours": lambda models: Moonshine.load(models.moonshine, models.cache),
    "free": lambda models: FreeMoonshine(models.moonshine),
    "pocketsphinx": lambda _models: PocketSphinx(),
    "vosk": _vosk,
    "whisper": _whisper,
}


def load(name: str, models: Models) -> Recogniser:
    """One of `EARS`.

    Raises:
        Absent: it or its model is not installed.
    """
    try:
        return EARS[name](models)
    except (ImportError, ModelError) as error:
        raise Absent(f"{name}: {error}") from error
