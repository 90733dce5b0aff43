"""What of a session's effects is heard: sentences, changes of the voice, and a pace."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from assistant.cli.manner import Wish, adjuster
from assistant.session.effects import Adjust, Effect, Say, Tick
from assistant.speech.pacing import ticks
from assistant.speech.voice.voices import SpokenVoice, Voice

__all__ = ["Speaker", "pacer", "speaker_with"]


@dataclass(frozen=True, slots=True)
class Speaker:
    """Does what is to be heard.

    Args:
        voice: where speech goes.
        adjust: changes the voice as the technician asks.
        pace: gives a pace, in ticks a minute, for a moment.
    """

    voice: Voice
    adjust: Callable[[Adjust], None]
    pace: Callable[[float], None]

    def do(self, effect: Effect) -> None:
        """Do an effect that is heard; the others are left alone."""
        match effect:
            case Say(text):
                self.voice.say(text)
            case Adjust():
                self.adjust(effect)
            case Tick(per_minute):
                self.pace(per_minute)


def speaker_with(voice: Voice, wish: Wish | None = None) -> Speaker:
    """A speaker that changes this voice when it is asked to, and ticks where it can.

    Args:
        voice: where speech goes.
        wish: how it was asked to speak before; by default in no way.
    """
    return Speaker(voice, adjuster(voice, wish or Wish()), pacer(voice))


def pacer(voice: Voice) -> Callable[[float], None]:
    """What gives a pace: the loudspeaker ticks, and any other voice is left as it is."""

    def give(per_minute: float) -> None:
        if isinstance(voice, SpokenVoice):
            voice.play(ticks(per_minute))

    return give
