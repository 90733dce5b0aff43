"""Vosk behind the `Recogniser` interface: an engine with a word-list mode of its own.

Vosk 0.3.45 takes a grammar as a list of words, not as sentences, so what it hears is parsed again.
Its confidence stands near 1.0 for wrong words too: take it as a hint only. Words that the model
does not know it would drop with no more than a line in its log, so they are looked up first. A
recogniser is made for each utterance, because changing the grammar of one in use may abort the
process. How well English models do here is unmeasured.
"""

from __future__ import annotations

import importlib
import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any, Self

import numpy as np

from assistant.language.grammar import Grammar
from assistant.language.recognition import Recognition
from assistant.speech.ears import SAMPLE_RATE, Samples
from assistant.speech.errors import ModelError

__all__ = ["Vosk"]

_GARBAGE = ("[unk]", "<UNK>", "<unk>")
"""What models call sound that is none of their words, most usual first."""

_NEEDED = ("am/final.mdl", "graph/HCLr.fst", "graph/Gr.fst")
"""Files without which a model cannot be held to a word list."""

_CHUNK = SAMPLE_RATE // 10


class Vosk:
    """A loaded Vosk model; made with `load`."""

    name = "vosk"

    def __init__(self, library: Any, model: Any) -> None:
        self._library = library
        self._model = model
        self._garbage = next((word for word in _GARBAGE if self.knows(word)), _GARBAGE[0])

    @classmethod
    def load(cls, folder: Path) -> Self:
        """Load the model in a folder.

        Raises:
            ModelError: the folder holds no usable model, or the package vosk is missing.
        """
        absent = [name for name in _NEEDED if not (folder / name).is_file()]
        if absent:
            raise ModelError(
                f"{folder}: no Vosk model that takes a word list ({', '.join(absent)} missing); "
                "name the folder of a small Vosk model, such as vosk-en-small once fetched"
            )
        try:
            library = importlib.import_module("vosk")
        except (ImportError, OSError) as error:
            raise ModelError(
                f"Vosk cannot be used ({error}): install the package vosk with pip"
            ) from error
        library.SetLogLevel(-1)
        try:
            return cls(library, library.Model(str(folder)))
        except Exception as error:  # vosk raises bare Exception
            raise ModelError(
                f"{folder}: Vosk cannot load this model ({error}); fetch it again"
            ) from error

    def missing_words(self, grammar: Grammar) -> frozenset[str]:
        """Words of the grammar that the model does not know: it cannot hear them."""
        return frozenset(word for word in grammar.vocabulary() if not self.knows(word))

    def recognise(self, samples: Samples, grammar: Grammar) -> Recognition:
        """The words heard and what the grammar makes of them; None where garbage was among them.

        Raises:
            ModelError: the model knows no word of the grammar.
        """
        known = sorted(grammar.vocabulary() - self.missing_words(grammar))
        if not known:
            raise ModelError(
                "the Vosk model knows none of the words asked for: "
                "is it of the language of the procedure?"
            )
        engine = self._engine(known)
        words = [word for result in _results(engine, samples) for word in result.get("result", ())]
        text = " ".join(word["word"] for word in words)
        meaning = None if any(word["word"] in _GARBAGE for word in words) else grammar.parse(text)
        confidence = min((min(1.0, max(0.0, word["conf"])) for word in words), default=0.0)
        return Recognition(text, meaning, confidence, len(samples) / SAMPLE_RATE, self.name)

    def knows(self, word: str) -> bool:
        """Whether the model can hear a word."""
        return int(self._model.vosk_model_find_word(word)) >= 0

    def _engine(self, words: list[str]) -> Any:
        """A fresh engine held to the words; it reads its list unescaped."""
        vocabulary = json.dumps([*words, self._garbage], ensure_ascii=False)
        engine = self._library.KaldiRecognizer(self._model, SAMPLE_RATE, vocabulary)
        engine.SetWords(True)
        return engine


def _results(engine: Any, samples: Samples) -> Iterator[dict[str, Any]]:
    """Feed the samples as a stream; a pause within ends one result and begins another."""
    whole = (np.clip(np.nan_to_num(samples), -1.0, 1.0) * 32767.0).astype("<i2")
    for start in range(0, len(whole), _CHUNK):
        if engine.AcceptWaveform(whole[start : start + _CHUNK].tobytes()):
            yield json.loads(engine.Result())
    yield json.loads(engine.FinalResult())
