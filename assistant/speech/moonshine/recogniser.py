"""The default recogniser: a Moonshine model held to a grammar.

Encoded audio is searched twice by the same decoder: for the sentences of the grammar (`search`,
less the prior of `nonspeech`), and freely (`rival`). The `speller` proposes sentences of its own
and weighs all of them. What they mean is compared in `readings`, and how far the best may be
believed in `confidence`.
"""

from __future__ import annotations

import functools
import hashlib
from collections.abc import Iterable
from pathlib import Path
from typing import Self

import numpy as np

from assistant.language.grammar import Grammar
from assistant.language.recognition import Recognition
from assistant.speech.ears import SAMPLE_RATE, Samples
from assistant.speech.errors import ModelError
from assistant.speech.moonshine.confidence import HOPELESS_GAP, Calibration, Evidence
from assistant.speech.moonshine.encoder_decoder import LEAST_SAMPLES, Decoding, EncoderDecoder
from assistant.speech.moonshine.noise_decoder import NoiseDecoder
from assistant.speech.moonshine.nonspeech import NonSpeech, PriorStore, noises
from assistant.speech.moonshine.pieces import PieceError, Pieces
from assistant.speech.moonshine.prior_store import FileStore, MemoryStore
from assistant.speech.moonshine.readings import readings, unspelled
from assistant.speech.moonshine.rival import free_rival
from assistant.speech.moonshine.search import Path as Sentence
from assistant.speech.moonshine.search import search
from assistant.speech.moonshine.speller.judge import SpellingJudge, can_spell
from assistant.speech.moonshine.speller.network import Network
from assistant.speech.moonshine.speller.search import Terms, only
from assistant.speech.moonshine.token_graph import TokenGraph

__all__ = ["LONGEST_UTTERANCE", "Moonshine"]

LONGEST_UTTERANCE = 20
"""Seconds; no reply is longer, and the memory that the model takes grows with the length. The rest
is cut off."""

_GRAPHS_KEPT = 64
_FILES = ("encoder_model.ort", "decoder_model_merged.ort", "tokenizer.bin")


class Moonshine:
    """Hears replies under a grammar. For one caller at a time.

    Args:
        graphs: the model's graphs.
        pieces: the model's word pieces.
        store: where the non-speech prior is kept.
        name: the model's name, as it stands in the journal.
        speller: the second judge; None for a model on whose encoder none was taught.
    """

    def __init__(
        self,
        graphs: EncoderDecoder,
        pieces: Pieces,
        store: PriorStore,
        name: str,
        speller: Network | None = None,
    ) -> None:
        self._graphs = graphs
        self._pieces = pieces
        self._name = name
        self._speller = speller
        self._calibration = Calibration.load()
        self._prior = NonSpeech(NoiseDecoder(graphs, noises()), store)
        self._token_graph = functools.lru_cache(_GRAPHS_KEPT)(self._compile)

    @classmethod
    def load(cls, folder: Path, cache: Path | None = None) -> Self:
        """Load a model; takes a second or two.

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
        speller = Network.load()
        hears = speller if speller.hears_by(folder / _FILES[0]) else None
        return cls(EncoderDecoder(folder), pieces, _store(folder, cache), model, hears)

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
        usable = _usable(samples)
        if len(usable) < LEAST_SAMPLES or not usable.any():
            return Recognition("", None, 0.0, seconds, self.name)
        evidence = self.weigh(usable, grammar)
        if evidence is None:
            return Recognition("", None, 0.0, seconds, self.name)
        near = evidence.near
        return Recognition(
            evidence.best.text,
            evidence.best.meaning,
            self._calibration.confidence(evidence),
            seconds,
            self.name,
            None if near is None else near.meaning,
            self._calibration.level,
        )

    def weigh(self, samples: Samples, grammar: Grammar) -> Evidence | None:
        """The evidence for the best reading; None if no sentence of the grammar is likely enough.

        Args:
            samples: at least `LEAST_SAMPLES` and at most `LONGEST_UTTERANCE` of finite samples.
            grammar: what may have been said.
        """
        encoding = self._graphs.encode(samples)
        beginning = self._graphs.decode(encoding)
        rival = free_rival(beginning)
        paths = search(
            self._token_graph(grammar), beginning, self._prior, least=rival.heard - HOPELESS_GAP
        )
        spelled = unspelled
        if self._speller is not None and can_spell(grammar):
            judge = SpellingJudge(grammar, self._speller.spell(encoding))
            paths = self._with_proposals(paths, judge.proposals(), beginning)
            spelled = judge.spelled
        found = readings(paths, self._pieces.text, grammar.parse, spelled)
        if not found:
            return None
        other = next((one for one in found[1:] if one.meaning is not None), None)
        return Evidence(found[0], other, rival)

    def _with_proposals(
        self, paths: list[Sentence], proposals: list[Terms], beginning: Decoding
    ) -> list[Sentence]:
        """The sentences found, and those that the speller proposes, judged by the decoder too."""
        if not proposals:
            return paths
        graph = TokenGraph(only(proposals), self._pieces)
        more = search(graph, beginning, self._prior)
        every = {path.tokens: path for path in (*paths, *more)}
        return sorted(every.values(), key=Sentence.score, reverse=True)

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
