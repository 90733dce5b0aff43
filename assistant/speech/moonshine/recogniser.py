"""The default recogniser: a Moonshine model held to a grammar.

The `speller` proposes sentences of the grammar, and the decoder looks how they may be written and
how likely that is (`search`, less the prior of `nonspeech`), and what it would write freely
(`rival`). What the proposals mean is compared in `readings`, and how far the best may be believed
in `confidence`; a doubtful one is looked for again (`second_hearing`). The decoder does not search
the whole grammar, unless it has words that the speller cannot spell: that took longer and found
nothing more on development speech.
"""

from __future__ import annotations

import functools
import hashlib
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path
from typing import Self

import numpy as np

from assistant.language.grammar import Grammar
from assistant.language.recognition import Recognition
from assistant.speech.ears import SAMPLE_RATE, Samples
from assistant.speech.errors import ModelError
from assistant.speech.moonshine.confidence import HOPELESS_GAP, Calibration, Evidence
from assistant.speech.moonshine.encoder_decoder import LEAST_SAMPLES, EncoderDecoder
from assistant.speech.moonshine.noise_decoder import NoiseDecoder
from assistant.speech.moonshine.nonspeech import NonSpeech, PriorStore, noises
from assistant.speech.moonshine.pieces import PieceError, Pieces
from assistant.speech.moonshine.prior_store import FileStore, MemoryStore
from assistant.speech.moonshine.readings import Reading, readings, unspelled
from assistant.speech.moonshine.rival import FreeRival, Rival
from assistant.speech.moonshine.search import search
from assistant.speech.moonshine.second_hearing import slower
from assistant.speech.moonshine.speller.judge import can_spell
from assistant.speech.moonshine.speller.search import only
from assistant.speech.moonshine.speller.speller import Speller
from assistant.speech.moonshine.token_graph import TokenGraph

__all__ = ["BORROWED", "LONGEST_UTTERANCE", "UNHEARD", "Model", "Moonshine"]

LONGEST_UTTERANCE = 20
"""Seconds; no reply is longer, and the memory that the model takes grows with the length. The rest
is cut off, and the text of what was heard says so."""

UNHEARD = f" [not heard: what came after {LONGEST_UTTERANCE} s]"
"""Stands behind the text of an utterance that was too long."""

BORROWED = "calibration borrowed"
"""Stands behind the model's name where its calibration was fitted on another model."""

_GRAPHS_KEPT = 64
_FILES = ("encoder_model.ort", "decoder_model_merged.ort", "tokenizer.bin")


@dataclass(frozen=True, slots=True)
class Model:
    """A Moonshine model, loaded.

    Args:
        graphs: its encoder and decoder.
        pieces: its word pieces.
        name: as it stands in the journal.
    """

    graphs: EncoderDecoder
    pieces: Pieces
    name: str


class Moonshine:
    """Hears replies under a grammar. For one caller at a time.

    Args:
        model: the model.
        store: where the non-speech prior is kept.
        speller: the second judge.
        calibration: how far its readings may be believed.
    """

    def __init__(
        self, model: Model, store: PriorStore, speller: Speller, calibration: Calibration
    ) -> None:
        self._graphs, self._pieces, self._name = model.graphs, model.pieces, model.name
        self._speller = speller
        self._calibration = calibration
        self._prior = NonSpeech(NoiseDecoder(model.graphs, noises()), store)
        self._token_graph = functools.lru_cache(_GRAPHS_KEPT)(self._compile)

    @classmethod
    def load(cls, folder: Path, cache: Path | None = None) -> Self:
        """Load a model.

        Args:
            folder: the model's folder with its three files; its name is the model's name.
            cache: folder in which to keep the non-speech prior between runs; None for this run
                only.

        Raises:
            ModelError: a file is missing or is not what it should be.
        """
        model = folder.resolve().name
        for name in _FILES:
            if not (folder / name).is_file():
                raise ModelError(f"{folder / name}: not there; run: gloveside model fetch {model}")
        try:
            pieces = Pieces.load(folder / "tokenizer.bin")
        except PieceError as error:
            raise ModelError(str(error)) from error
        encoder = hashlib.sha256((folder / _FILES[0]).read_bytes()).hexdigest()
        calibration = Calibration.load()
        if calibration.encoder != encoder:
            calibration, model = calibration.borrowed(), f"{model}, {BORROWED}"
        loaded = Model(EncoderDecoder(folder), pieces, model)
        return cls(loaded, _store(folder, cache), Speller.load(encoder), calibration)

    @property
    def name(self) -> str:
        """The engine's name, as it stands in the journal."""
        return self._name

    def recognise(self, samples: Samples, grammar: Grammar) -> Recognition:
        """The best reading of the samples among the sentences of the grammar.

        Audio that cannot hold a word (shorter than a tenth of a second, or digital silence) has no
        reading. Samples that are no numbers count as silence.
        """
        seconds = len(samples) / SAMPLE_RATE
        cut = UNHEARD if seconds > LONGEST_UTTERANCE else ""
        usable = _usable(samples)
        if len(usable) < LEAST_SAMPLES or not usable.any():
            return Recognition(cut, None, 0.0, seconds, self.name)
        evidence = self.weigh(usable, grammar)
        if evidence is None:
            return Recognition(cut, None, 0.0, seconds, self.name)
        near = evidence.near
        return Recognition(
            evidence.best.text + cut,
            evidence.best.meaning,
            self._calibration.confidence(evidence, lambda: self.weigh(slower(usable), grammar)),
            seconds,
            self.name,
            None if near is None else near.meaning,
            self._calibration.level,
        )

    def weigh(self, samples: Samples, grammar: Grammar) -> Evidence | None:
        """The evidence for the best reading; None if no sentence of the grammar is likely enough.

        Args:
            samples: at least `LEAST_SAMPLES` of finite samples, and not much more than
                `LONGEST_UTTERANCE`.
            grammar: what may have been said.
        """
        return Evidence.of(*self.readings(samples, grammar))

    def readings(self, samples: Samples, grammar: Grammar) -> tuple[list[Reading], Rival]:
        """All readings that were considered, best first, and the free rival; as `weigh`."""
        encoding = self._graphs.encode(samples)
        beginning = self._graphs.decode(encoding)
        rival = FreeRival(beginning)
        if not can_spell(grammar):
            graph, least = self._token_graph(grammar), rival.whole().heard - HOPELESS_GAP
            paths, spelled = search(graph, beginning, self._prior, least=least), unspelled
        else:
            judges = self._speller.judges(samples, encoding, grammar)
            proposals = judges.proposals()
            graph = TokenGraph(only(proposals), self._pieces)
            paths = search(graph, rival.beside(), self._prior) if proposals else []
            spelled = judges.spelled
        return readings(paths, self._pieces.text, grammar.parse, spelled), rival.whole()

    def _compile(self, grammar: Grammar) -> TokenGraph:
        return TokenGraph(grammar, self._pieces)


def _usable(samples: Samples) -> Samples:
    cut = np.asarray(samples, np.float32)[: LONGEST_UTTERANCE * SAMPLE_RATE]
    return np.clip(np.nan_to_num(cut, nan=0.0, posinf=0.0, neginf=0.0), -1.0, 1.0)


def _store(folder: Path, cache: Path | None) -> PriorStore:
    sounds = noises()
    if cache is None:
        return MemoryStore()
    files = (folder / name for name in _FILES)
    digest = _digest([*(file.read_bytes() for file in files), *(one.tobytes() for one in sounds)])
    return FileStore(cache / f"non-speech-{digest}.sqlite", len(sounds))


def _digest(contents: Iterable[bytes]) -> str:
    """Tells one model with one set of noises from another."""
    total = hashlib.sha256()
    for content in contents:
        total.update(content)
    return total.hexdigest()[:16]
