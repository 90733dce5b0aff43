"""A reply that begins before the prompt has ended, and goes on after it.

Who knows the job answers early. The ears discard what came with the prompt, so they would hear half
a reply: "two closed" of "one and two closed". They get it from its beginning instead, without the
program's own voice. What was said and ended before the prompt, by more than a pause within a reply
lasts, is lost all the same, but for "hold": it may answer something else.
"""

from __future__ import annotations

from collections.abc import Iterator

from assistant.speech.devices.barge_in import BargeIn
from assistant.speech.devices.microphone import SoundSource
from assistant.speech.ears import Samples

__all__ = ["EarlyReply"]


class EarlyReply:
    """A microphone that keeps the beginning of an early reply where all before is discarded.

    Args:
        microphone: open.
        barge_in: the loudspeaker that was listened over through it.
    """

    def __init__(self, microphone: SoundSource, barge_in: BargeIn) -> None:
        self._microphone = microphone
        self._barge_in = barge_in
        self._begun: tuple[Samples, ...] = ()

    @property
    def overflows(self) -> int:
        """How often sound was lost because nobody took it in time."""
        return self._microphone.overflows

    def discard(self) -> None:
        """Forget what was heard up to now, except what came after the prompt, or began before."""
        self._begun = self._barge_in.heard_already()
        if not self._begun:
            self._microphone.discard()

    def blocks(self) -> Iterator[Samples]:
        """The blocks of the reply so far, then those of the microphone.

        Raises:
            DeviceError: the microphone fails.
        """
        begun, self._begun = self._begun, ()
        yield from begun
        yield from self._microphone.blocks()
