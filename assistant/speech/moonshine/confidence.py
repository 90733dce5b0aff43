"""How far the best reading may be believed.

Three questions decide. Does the audio hold speech that says this, more than noise would? The
evidence against the non-speech prior tells. Does it hold this rather than something outside the
grammar? The free rival tells: it may be likelier, for the model often mishears what is said plainly
("most closed" for "both closed"), but by no more than a share of that evidence. And does it hold
this reply and no other? The next best reading tells.

Each answer is a distance in nats from where the border lies. The smallest counts, and becomes a
confidence of 0.5 on the border.

The constants, and the weights of the prior in `search` and `readings`, were chosen together on a
grid, so that most replies were understood with every wrong one counting threefold: on the phrases
of the benchmark in six voices that it does not use (five of espeak-ng, one of flite), clean and
with pink noise at 10 dB; and on human recordings that the benchmark uses too (single words, and
unrelated sentences), so its figures for those are not independent.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from assistant.speech.moonshine.readings import Reading
from assistant.speech.moonshine.rival import Rival

__all__ = ["Evidence", "confidence"]


@dataclass(frozen=True, slots=True)
class Evidence:
    """What speaks for and against the best reading.

    Args:
        best: the best reading.
        other: the next best that has a meaning, if any.
        rival: the best sentence without a grammar.
    """

    best: Reading
    other: Reading | None
    rival: Rival

    @property
    def gap(self) -> float:
        """By how much the free rival is likelier than the best reading, in nats."""
        return self.rival.heard - self.best.heard

    @property
    def margin(self) -> float:
        """By how much the best reading is better than the next, in nats."""
        return math.inf if self.other is None else self.best.score() - self.other.score()


LEAST_EVIDENCE = 3.5
"""Nats by which audio must speak for a reading more than noise does."""

FREE_GAP = 3.0
"""Nats by which the free rival may be likelier whatever the evidence."""

GAP_SHARE = 0.7
"""The share of the evidence by which the free rival may be likelier beyond that."""

LEAST_MARGIN = 1.25
"""Nats by which the best reading must be better than the next."""

HOPELESS_GAP = 30.0
"""Nats below the free rival from which on a sentence is not even looked for: the widest gap of a
reply that was rightly accepted, a spelled tag, was 16.2 on the speech that the constants were
chosen on."""

_STEEPNESS = 1.0
"""Logits of confidence for each nat."""

_FARTHEST = 50.0
"""Nats beyond which a distance makes no difference."""


def confidence(evidence: Evidence) -> float:
    """The confidence in the best reading, 0 to 1, half on the border of acceptance."""
    speech = evidence.best.score(weight=1.0)
    room = min(
        speech - LEAST_EVIDENCE,
        FREE_GAP + GAP_SHARE * speech - evidence.gap,
        evidence.margin - LEAST_MARGIN,
        _FARTHEST,
    )
    return 1.0 / (1.0 + math.exp(-_STEEPNESS * max(room, -_FARTHEST)))
