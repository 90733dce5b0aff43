"""The interfaces through which the program hears.

A `Recogniser` turns samples into a `Recognition`; `Ears` wait for one reply from wherever replies
come from (microphone, keyboard, a folder of clips, a simulated technician).
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Protocol, TypeAlias

import numpy as np
from numpy.typing import NDArray

from assistant.language.grammar import Grammar
from assistant.language.recognition import Recognition

__all__ = ["SAMPLE_RATE", "Ears", "Ended", "Recogniser", "Reply", "Samples", "Silence", "Spoken"]

SAMPLE_RATE = 16_000
"""Hertz; every recogniser here takes mono audio at this rate."""

Samples: TypeAlias = NDArray[np.float32]
"""Mono audio in -1 to 1 at `SAMPLE_RATE`, shape (n,)."""


class Recogniser(Protocol):
    """Turns one utterance into words and meaning under a grammar."""

    @property
    def name(self) -> str:
        """The engine's name, as it stands in the journal."""

    def recognise(self, samples: Samples, grammar: Grammar) -> Recognition:
        """The best reading of the samples among the sentences of the grammar."""


@dataclass(frozen=True, slots=True)
class Spoken:
    """Something was said (or typed: then there are no samples).

    Args:
        recognition: what was heard.
        samples: its sound.
        lost: how often some of the sound was lost since listening began, because it came too fast.
    """

    recognition: Recognition
    samples: Samples | None
    lost: int = 0


@dataclass(frozen=True, slots=True)
class Silence:
    """Nothing was said for as long as the ears were asked to wait (VoiceXML: noinput)."""


@dataclass(frozen=True, slots=True)
class Ended:
    """Nothing more can come: end of the typed input, or the last clip of a folder was used."""


Reply = Spoken | Silence | Ended


class Ears(Protocol):
    """Waits for replies."""

    def listen(self, grammar: Grammar, patience: float) -> Reply:
        """Wait for one reply, at most `patience` seconds for its beginning."""
