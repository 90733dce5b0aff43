"""The word that cut off what was said, from when it was heard until it is taken as a reply.

It is no part of a device: where the loudspeaker fails in the same prompt, the devices are let go of
and opened anew, and the word is the first reply after that.
"""

from __future__ import annotations

from dataclasses import dataclass

from assistant.speech.ears import Spoken

__all__ = ["UntakenWord"]


@dataclass(slots=True)
class UntakenWord:
    """At most one word that waits to be taken.

    Args:
        said: the word, as it was spoken or pressed; None while none waits.
    """

    said: Spoken | None = None

    def take(self) -> Spoken | None:
        """The word, which then waits no more; None where there is none."""
        said, self.said = self.said, None
        return said
