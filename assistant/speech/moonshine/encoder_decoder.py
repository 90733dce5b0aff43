"""The two graphs of a Moonshine model: an encoder of samples and a decoder of word pieces.

The decoder answers, after any prefix of word pieces, the log-probability of every piece that may
follow. It keeps its memory of the prefix in a key-value cache with one row for each prefix. The
part of the cache that only depends on the audio has a single row which all prefixes share: the
graph broadcasts it, so nothing is copied when the beam is wide.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Self

import numpy as np
from numpy.typing import NDArray

from assistant.speech.ears import Samples
from assistant.speech.graphs import load_graph
from assistant.speech.moonshine.pieces import START

__all__ = ["LEAST_SAMPLES", "Decoding", "EncoderDecoder", "Encoding", "LogProbabilities"]

Encoding = NDArray[np.float32]
"""What the encoder makes of audio, shape (1, frames, width); some 40 frames a second."""

LogProbabilities = NDArray[np.float32]
"""Natural logarithms, shape (rows, pieces)."""

LEAST_SAMPLES = 1_600
"""A tenth of a second: below about 900 samples the encoder has not one frame to answer."""

_THREADS = 2

_Cache = dict[str, NDArray[np.float32]]


def _log_softmax(logits: NDArray[np.float32]) -> LogProbabilities:
    highest = logits.max(axis=-1, keepdims=True)
    total = np.log(np.exp(logits - highest).sum(axis=-1, keepdims=True))
    return np.asarray(logits - highest - total, np.float32)


def _grows(name: str) -> bool:
    """Whether this part of the cache depends on the sentences; the rest only on the audio."""
    return ".decoder." in name


class EncoderDecoder:
    """The model's graphs, loaded."""

    def __init__(self, folder: Path) -> None:
        self._encoder = load_graph(folder / "encoder_model.ort", _THREADS)
        self._decoder = load_graph(folder / "decoder_model_merged.ort", _THREADS)
        self._inputs = {value.name: value for value in self._decoder.get_inputs()}
        self._outputs = [value.name for value in self._decoder.get_outputs()]

    def encode(self, samples: Samples) -> Encoding:
        """Encode at least `LEAST_SAMPLES` samples."""
        feeds: dict[str, Any] = {"input_values": samples[np.newaxis, :]}
        if len(self._encoder.get_inputs()) > 1:
            feeds["attention_mask"] = np.ones((1, len(samples)), np.int64)
        return np.asarray(self._encoder.run(None, feeds)[0])

    def decode(self, encoding: Encoding, beginnings: Sequence[tuple[int, ...]] = ((),)) -> Decoding:
        """Begin a decoding of encoded audio.

        Args:
            encoding: the encoded audio.
            beginnings: beginnings of sentences, all of one length, without the start token; one
                row for each. By default one empty sentence.
        """
        tokens = np.array([(START, *beginning) for beginning in beginnings], np.int64)
        logits, cache = self.run(np.repeat(encoding, len(tokens), axis=0), tokens, None)
        shared = {name: values if _grows(name) else values[:1] for name, values in cache.items()}
        return Decoding(self, encoding, shared, _log_softmax(logits[:, -1]))

    def run(
        self, encoding: Encoding, tokens: NDArray[np.int64], cache: _Cache | None
    ) -> tuple[NDArray[np.float32], _Cache]:
        """One call of the decoder's graph: logits of every position given, and the new cache."""
        feeds: dict[str, Any] = {
            "input_ids": tokens,
            "encoder_hidden_states": encoding,
            "use_cache_branch": np.array([cache is not None]),
            **(self._empty_cache() if cache is None else cache),
        }
        if "encoder_attention_mask" in self._inputs:
            # The graph wants a mask of samples and thins it out to frames. Nothing is masked here,
            # and a single one stands for all of any length.
            feeds["encoder_attention_mask"] = np.ones((1, 1), np.int64)
        logits, *present = self._decoder.run(None, feeds)
        return logits, self._present(present, cache)

    def _empty_cache(self) -> _Cache:
        return {
            name: np.zeros((0, value.shape[1], 1, value.shape[3]), np.float32)
            for name, value in self._inputs.items()
            if name.startswith("past_key_values")
        }

    def _present(self, present: Sequence[NDArray[np.float32]], before: _Cache | None) -> _Cache:
        after: _Cache = dict(before or {})
        for name, values in zip(self._outputs[1:], present, strict=True):
            if before is None or _grows(name):
                after[name.replace("present", "past_key_values")] = values
        return after


@dataclass(frozen=True, slots=True)
class Decoding:
    """Sentences begun on one encoding, all of the same length, one in each row."""

    graphs: EncoderDecoder
    encoding: Encoding
    cache: _Cache
    following: LogProbabilities
    """What may follow each sentence."""

    def extend(self, rows: Sequence[int], tokens: Sequence[int]) -> Self:
        """Sentences that go on from the given rows (a row may be named often), each by a token."""
        picked = {
            name: values[list(rows)] if _grows(name) else values
            for name, values in self.cache.items()
        }
        column = np.array(tokens, np.int64)[:, np.newaxis]
        logits, cache = self.graphs.run(self.encoding, column, picked)
        return type(self)(self.graphs, self.encoding, cache, _log_softmax(logits[:, -1]))
