"""Under which conditions speech is heard: noises at ratios, a room, poor microphones."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass

from assistant.speech.ears import Samples
from tests.bench.mixing import mixed
from tests.bench.noises import Maker
from tests.bench.rooms import clipped, quiet, reverberant

__all__ = ["CLEAN", "IMPAIRED", "RATIOS", "Condition", "conditions"]

RATIOS = (20.0, 10.0, 5.0, 0.0)
"""Active speech over noise [dB]."""

_IMPAIRED: Mapping[str, Callable[[Samples, int], Samples]] = {
    "small hard room": reverberant,
    "clipped": lambda samples, _seed: clipped(samples),
    "quiet": lambda samples, _seed: quiet(samples),
}

IMPAIRED = tuple(_IMPAIRED)
"""What a room or a microphone does."""


@dataclass(frozen=True, slots=True)
class Condition:
    """One condition.

    Args:
        name: of the noise, or of what a room or microphone does; ``clean`` for neither.
        ratio: active speech over noise [dB]; None where there is no noise.
    """

    name: str
    ratio: float | None = None

    def __str__(self) -> str:
        return self.name if self.ratio is None else f"{self.name} {self.ratio:g} dB"

    def heard(self, speech: Samples, seed: int, makers: Mapping[str, Maker]) -> Samples:
        """What reaches the ear of what is said.

        Args:
            speech: what is said.
            seed: which noise, or which room.
            makers: of the noises, by name.
        """
        if self.ratio is not None:
            return mixed(speech, makers[self.name](len(speech), seed), self.ratio)
        return _IMPAIRED[self.name](speech, seed) if self.name in _IMPAIRED else speech


CLEAN = Condition("clean")


def conditions(names: Iterable[str], ratios: Iterable[float | None]) -> Iterator[Condition]:
    """The conditions of a run.

    Args:
        names: noises, and what rooms and microphones do.
        ratios: at which the noises are mixed in; None among them for clean speech.
    """
    ratios = tuple(ratios)
    if None in ratios:
        yield CLEAN
    for name in names:
        if name in IMPAIRED:
            yield Condition(name)
        else:
            yield from (Condition(name, ratio) for ratio in ratios if ratio is not None)
