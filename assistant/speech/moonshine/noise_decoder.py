"""The model's decoder at work on encoded noises, for the non-speech prior.

A search asks for beginnings of sentences step by step, each step one piece longer. So what was
decoded last is kept: if the beginnings asked for continue it, one more step of the decoder answers;
otherwise they are decoded from their start.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

import numpy as np
from numpy.typing import NDArray

from assistant.speech.ears import Samples
from assistant.speech.moonshine.encoder_decoder import Decoding, EncoderDecoder
from assistant.speech.moonshine.nonspeech import Beginning

__all__ = ["NoiseDecoder"]


class NoiseDecoder:
    """Scores beginnings of sentences under noises.

    Args:
        graphs: the model.
        noises: the sounds, each at least a tenth of a second.
    """

    def __init__(self, graphs: EncoderDecoder, noises: Iterable[Samples]) -> None:
        self._graphs = graphs
        self._encodings = [graphs.encode(noise) for noise in noises]
        self._decodings: list[Decoding] = []
        self._rows: dict[Beginning, int] = {}

    def __call__(self, beginnings: Sequence[Beginning]) -> NDArray[np.float32]:
        """Log-probabilities of what follows, shape (noises, beginnings, pieces)."""
        rows = [self._rows.get(beginning[:-1], -1) if beginning else -1 for beginning in beginnings]
        if -1 in rows:
            self._decodings = [self._graphs.decode(one, beginnings) for one in self._encodings]
        else:
            tokens = [beginning[-1] for beginning in beginnings]
            self._decodings = [decoding.extend(rows, tokens) for decoding in self._decodings]
        self._rows = {beginning: row for row, beginning in enumerate(beginnings)}
        return np.stack([decoding.following for decoding in self._decodings])
