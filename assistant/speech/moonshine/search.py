"""Search for the sentences of a grammar that audio may hold.

Theory of operation: a beam of beginnings of sentences grows by one word piece a step. Only pieces
that the token graph allows are considered, but each is scored with the model's probability among
*all* pieces, and the end of a sentence has its probability like any piece. So the probability of
what was found can be compared with that of a sentence outside the grammar.

A beginning is as good as its log-probability given the audio, less a share of its log-probability
given no speech (see `nonspeech`). The beam keeps the best by that measure. The search is over when
no beginning is left that may still matter.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Protocol, Self

import numpy as np
from numpy.typing import NDArray

from assistant.speech.moonshine.pieces import END
from assistant.speech.moonshine.token_graph import State

__all__ = ["BEAM_WIDTH", "NON_SPEECH_WEIGHT", "Decoding", "Graph", "Path", "Prior", "search"]

BEAM_WIDTH = 8
"""How many beginnings go on after each step."""

NON_SPEECH_WEIGHT = 0.6
"""The share of the non-speech prior that is taken off when beginnings, and what they came to mean,
are compared."""

_HOPELESS = 20.0
"""A beginning this many nats below the best sentence found cannot matter any more."""


class Graph(Protocol):
    """What may be written (see `TokenGraph`)."""

    start: State

    def follow(self, state: State) -> Mapping[int, State]:
        """The pieces that may come next, each with the state it leads to."""

    def is_end(self, state: State) -> bool:
        """Whether a sentence may end here."""


class Decoding(Protocol):
    """A decoder at work on one encoding (see `encoder_decoder`)."""

    @property
    def following(self) -> NDArray[np.float32]:
        """Log-probabilities of what may follow each row."""

    def extend(self, rows: Sequence[int], tokens: Sequence[int]) -> Self:
        """Go on from these rows by these tokens."""


class Prior(Protocol):
    """The non-speech prior (see `NonSpeech`)."""

    def following(
        self, beginnings: Sequence[tuple[int, ...]], wanted: Sequence[Sequence[int]]
    ) -> Sequence[Mapping[int, NDArray[np.float32]]]:
        """Log-probabilities under each noise of the wanted tokens after each beginning."""


@dataclass(frozen=True, slots=True)
class Path:
    """A sentence, or the beginning of one.

    Args:
        tokens: its pieces, without start and end token.
        state: where it stands in the graph.
        heard: its log-probability given the audio.
        noise: its log-probability given each noise, shape (noises,).
        row: the row of the decoding that it goes on from.
    """

    tokens: tuple[int, ...]
    state: State
    heard: float
    noise: NDArray[np.float32]
    row: int = 0

    @property
    def unheard(self) -> float:
        """Log-probability given non-speech: the mean probability over the noises."""
        return float(np.logaddexp.reduce(self.noise) - np.log(len(self.noise)))

    def score(self, weight: float = NON_SPEECH_WEIGHT) -> float:
        """How far the audio speaks for it, in nats."""
        return self.heard - weight * self.unheard


def _wanted(graph: Graph, path: Path) -> list[int]:
    return [*graph.follow(path.state), *([END] if graph.is_end(path.state) else [])]


def _grow(graph: Graph, live: Sequence[Path], decoding: Decoding, prior: Prior) -> list[Path]:
    """Every way on from every path; a path that ends keeps its tokens."""
    wanted = [_wanted(graph, path) for path in live]
    noise = prior.following([path.tokens for path in live], wanted)
    return [
        Path(
            path.tokens if token == END else (*path.tokens, token),
            path.state if token == END else graph.follow(path.state)[token],
            path.heard + float(decoding.following[row, token]),
            path.noise + noise[row][token],
            row,
        )
        for row, path in enumerate(live)
        for token in wanted[row]
    ]


def _best(paths: Iterable[Path], width: int) -> list[Path]:
    return sorted(paths, key=Path.score, reverse=True)[:width]


def search(
    graph: Graph,
    decoding: Decoding,
    prior: Prior,
    width: int = BEAM_WIDTH,
    least: float = -np.inf,
) -> list[Path]:
    """The sentences found, best first; none if the graph has none that is likely enough.

    Args:
        graph: what may be written.
        decoding: the decoder at the beginning of the audio.
        prior: what non-speech makes probable.
        width: how many beginnings go on after each step.
        least: log-probability given the audio below which a beginning is not followed.
    """
    live = [Path((), graph.start, 0.0, np.zeros(1, np.float32))]
    sentences: list[Path] = []
    while live:
        grown = _grow(graph, live, decoding, prior)
        lengths = len(live[0].tokens)
        sentences += [path for path in grown if len(path.tokens) == lengths]
        best = max((path.heard for path in sentences), default=-np.inf)
        floor = max(best - _HOPELESS, least)
        live = _best(
            (path for path in grown if len(path.tokens) > lengths and path.heard > floor), width
        )
        if live:
            decoding = decoding.extend(
                [path.row for path in live], [path.tokens[-1] for path in live]
            )
    return _best(sentences, len(sentences))
