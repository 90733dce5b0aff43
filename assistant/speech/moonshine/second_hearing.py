"""A doubtful reading is looked for once more, in the same sound a little slower.

What noise makes of a word hangs on trifles: played a little slower, the sound gives another word
where chance had made it, and the same where it was said. What was said is mostly plain to one of
both hearings, so the surer counts most. By the fit that comes with the program nothing is believed
where the second finds something else, but for "hold".
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import soxr

from assistant.speech.ears import Samples

__all__ = ["BothHearings", "is_doubtful", "ordered", "slower"]

_PARTS, _STRETCHED = 16, 17
"""So many samples become so many more: six per cent slower, and lower by a semitone. An eighth
helped less on development speech, as did a sixteenth faster, less noise, and a start 35 ms later.
"""

_DOUBTFUL = 0.05, 0.95
"""Below it is hopeless, and above it sure enough."""

_OTHERWISE = -3.0
"""Logit of the second hearing where it finds another meaning, or none."""

_BOUNDS = -5.0, 6.0
"""Logits within which a hearing counts."""


@dataclass(frozen=True, slots=True)
class BothHearings:
    """How far two hearings together may be believed, as fitted.

    Args:
        offset: logit where neither says anything.
        less_sure: share of the logit of the less sure hearing.
        surer: share of the other's.
    """

    offset: float
    less_sure: float
    surer: float

    def logit(self, less_sure: float, surer: float) -> float:
        """Of the probability that the first hearing's best reading is right.

        Args:
            less_sure: the logit of the less sure hearing.
            surer: of the other (see `ordered`).
        """
        return self.offset + self.less_sure * less_sure + self.surer * surer


def ordered(first: float, second: float | None) -> tuple[float, float]:
    """What is weighed of two hearings: the logit of the less sure and of the surer.

    Args:
        first: the logit of the best reading by the first hearing.
        second: by the second; None where that found another meaning, or none.
    """
    low, high = _BOUNDS
    both = (first, _OTHERWISE if second is None else second)
    less, more = sorted(min(max(one, low), high) for one in both)
    return less, more


def is_doubtful(confidence: float) -> bool:
    """Whether a reading that was heard once is to be looked for again."""
    least, most = _DOUBTFUL
    return least <= confidence < most


def slower(samples: Samples) -> Samples:
    """The same sound, longer by a sixteenth; within -1 to 1, as what it is made of."""
    stretched = np.asarray(soxr.resample(samples, _PARTS, _STRETCHED), np.float32)
    return np.clip(stretched, -1.0, 1.0)
