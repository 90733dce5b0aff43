"""How far the best reading may be believed.

Does the audio hold speech that says this, more than noise would? The evidence against the
non-speech prior tells. Does it hold this rather than something outside the grammar? The free rival
tells by how much it is likelier. Does it hold this reply and no other? The margin to the next
reading tells; the share that the encoder's speller has in it is left out, for it hears through the
decoder's encoder and errs together with the decoder. And is it spelled as it is said? Both networks
of the speller tell. How much was said counts too: noise and other people's words resemble a short
reply sooner than a longer one.

Their weighted sum is the logit of the probability that the reading is right. Each counts only
within bounds, for beyond them more of it makes no difference. The weights are those of a logistic
regression on development speech, among it talk, noises and replies to other questions, which no
reading can be right of. A doubtful reading is looked for again (`second_hearing`), and both
hearings are weighed in the same way. `calibration.yaml` holds the weights with what they were
fitted on, and tests/bench/calibrate.py wrote it.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import astuple, dataclass, replace
from pathlib import Path
from typing import Self

import yaml

from assistant.language.meaning import Command, Word
from assistant.speech.errors import ModelError
from assistant.speech.moonshine.readings import Reading
from assistant.speech.moonshine.rival import Rival
from assistant.speech.moonshine.second_hearing import BothHearings, is_doubtful, ordered

__all__ = ["BORROWED_LEVEL", "BOUNDS", "FILE", "HOPELESS_GAP", "Calibration", "Evidence"]

FILE = Path(__file__).with_name("calibration.yaml")

HOPELESS_GAP = 30.0
"""Nats below the free rival from which on the decoder does not look for a sentence of its own: the
widest gap of a reply that was rightly accepted, a spelled tag, was 16.2 on development speech."""

BOUNDS: Mapping[str, tuple[float, float]] = {
    "evidence": (-30.0, 12.0),
    "gap": (-5.0, 30.0),
    "margin by decoder and bands": (-5.0, 10.0),
    "by encoder": (-20.0, 0.0),
    "by bands": (-20.0, 0.0),
    "letters": (0.0, 12.0),
}
"""Within which each counts: nats, and written letters of the best reading."""

BORROWED_LEVEL = 0.95
"""From which confidence on a model is believed for which no calibration was fitted. How often it
is right then was not measured, so it rather asks again."""

NEAR = 4.0
"""Nats of margin from which on another reading is no longer near: it is not what is in doubt."""


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

    @classmethod
    def of(cls, readings: Sequence[Reading], rival: Rival) -> Self | None:
        """The evidence for the first of the readings, which are best first; None for none."""
        if not readings:
            return None
        other = next((one for one in readings[1:] if one.meaning is not None), None)
        return cls(readings[0], other, rival)

    @property
    def gap(self) -> float:
        """By how much the free rival is likelier than the best reading, in nats."""
        return self.rival.heard - self.best.heard

    @property
    def margin(self) -> float:
        """By how much the best reading is better than the next, in nats."""
        return math.inf if self.other is None else self.best.score - self.other.score

    @property
    def margin_by_decoder_and_bands(self) -> float:
        """The margin without what the encoder's speller says, in nats.

        Below zero where that speller alone has brought the best reading before the next.
        """
        if self.other is None:
            return math.inf
        return self.margin - (self.best.share_of_encoder - self.other.share_of_encoder)

    @property
    def letters(self) -> int:
        """With how many characters the best reading is written; spaces do not count.

        "1 closed" has fewer than "one closed", as it had where the weights were fitted.
        """
        return sum(not letter.isspace() for letter in self.best.text)

    @property
    def near(self) -> Reading | None:
        """The other reading, where it is near enough to be what was said."""
        return self.other if self.margin < NEAR else None

    def measured(self) -> dict[str, float]:
        """What is weighed, within its bounds."""
        told = {
            "evidence": self.best.evidence,
            "gap": self.gap,
            "margin by decoder and bands": self.margin_by_decoder_and_bands,
            "by encoder": self.best.spelled.by_encoder,
            "by bands": self.best.spelled.by_bands,
            "letters": self.letters,
        }
        return {name: min(max(told[name], low), high) for name, (low, high) in BOUNDS.items()}


@dataclass(frozen=True, slots=True)
class Calibration:
    """From evidence to the probability that the best reading is right.

    Args:
        encoder: SHA-256 of the encoder with which it was fitted, in hexadecimal.
        fitted_on: the speech, in words.
        level: the probability from which on a reading is believed.
        offset: logit where nothing was measured.
        weights: logits for each nat or letter, by the names of `BOUNDS`.
        both: how far two hearings together.
    """

    encoder: str
    fitted_on: str
    level: float
    offset: float
    weights: Mapping[str, float]
    both: BothHearings

    @classmethod
    def load(cls, file: Path = FILE) -> Self:
        """Read the calibration that comes with the program.

        Raises:
            ModelError: the file is missing or damaged.
        """
        try:
            kept = yaml.safe_load(file.read_text(encoding="utf-8"))
            weights = {name: float(kept["weights"][name]) for name in BOUNDS}
            level, offset = float(kept["level"]), float(kept["offset"])
            both = BothHearings(
                *(float(kept["both hearings"][name]) for name in ("offset", "less sure", "surer"))
            )
            if not all(map(math.isfinite, (level, offset, *weights.values(), *astuple(both)))):
                raise ValueError("not a number")
            return cls(str(kept["encoder"]), str(kept["fitted-on"]), level, offset, weights, both)
        except (OSError, ValueError, KeyError, TypeError, yaml.YAMLError) as error:
            raise ModelError(
                f"{file}: missing or damaged, though it comes with the program; install gloveside "
                "again"
            ) from error

    def borrowed(self) -> Self:
        """The same for a model for which none was fitted: only what seems sure is believed."""
        return replace(self, level=max(self.level, BORROWED_LEVEL))

    def logit(self, evidence: Evidence) -> float:
        """Of the probability that the best reading is right, by one hearing.

        It is never more than the whole margin of the best against the next: of two that are equally
        good one is wrong, whatever speaks for both. A second hearing that tells them apart may
        still bring more.
        """
        measured = evidence.measured()
        logit = self.offset + sum(weight * measured[name] for name, weight in self.weights.items())
        return min(logit, evidence.margin)

    def confidence(self, first: Evidence, hear_again: Callable[[], Evidence | None]) -> float:
        """The probability that the best reading of the first hearing is right, 0 to 1.

        Args:
            first: the evidence of the first hearing.
            hear_again: the second hearing; called only where the first leaves it in doubt.
        """
        alone = self.confidence_by_one(first)
        if first.best.meaning is None or not is_doubtful(alone):
            return alone
        both = _probability(self.both.logit(*self.ordered(first, hear_again())))
        # "Hold" is never made harder to say.
        return max(alone, both) if first.best.meaning == Command(Word.HOLD) else both

    def confidence_by_one(self, evidence: Evidence) -> float:
        """The probability that the best reading is right, 0 to 1, by one hearing."""
        return _probability(self.logit(evidence))

    def ordered(self, first: Evidence, second: Evidence | None) -> tuple[float, float]:
        """The logits of the less sure and of the surer hearing, the second whatever it found."""
        if second is None or second.best.meaning != first.best.meaning:
            return ordered(self.logit(first), None)
        return ordered(self.logit(first), self.logit(second))


def _probability(logit: float) -> float:
    return 1.0 / (1.0 + math.exp(-logit))
