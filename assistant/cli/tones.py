"""When the tones of a job sound (`speech.earcons`): at what is understood, at a hold, at listening.

None of them is waited for: a tone begins, and what is said or heard next follows at once.
"""

from __future__ import annotations

from dataclasses import dataclass

from assistant.cli.conduct import Watcher
from assistant.language.grammar import Grammar
from assistant.session.effects import Effect, Held
from assistant.session.events import Event, Heard
from assistant.speech.earcons import Earcon, sound_of
from assistant.speech.ears import Ears, Reply
from assistant.speech.voice.voices import SpokenVoice

__all__ = ["EarsWithTone", "earcon_of", "with_tones"]


def earcon_of(event: Event, effects: tuple[Effect, ...]) -> Earcon | None:
    """The tone that goes before what is said to an event, if one does."""
    if any(isinstance(effect, Held) for effect in effects):
        return Earcon.HELD
    if isinstance(event, Heard) and event.recognition.accepted() is not None:
        return Earcon.HEARD
    return None


def with_tones(voice: SpokenVoice, ears: Ears) -> tuple[Ears, Watcher]:
    """The ears and a watcher through which every tone of a job sounds."""
    return EarsWithTone(ears, voice), _sounding(voice)


def _sounding(voice: SpokenVoice) -> Watcher:
    """Sounds the tones that go before what is said."""

    def watch(event: Event, effects: tuple[Effect, ...]) -> None:
        if (earcon := earcon_of(event, effects)) is not None:
            voice.begin(sound_of(earcon))

    return watch


@dataclass(frozen=True, slots=True)
class EarsWithTone:
    """Ears that give a tone when they begin to listen.

    The microphone is open already while it sounds, so that a quick answer loses nothing; that no
    tone is taken for speech is tested.

    Args:
        ears: listen.
        voice: gives the tone.
    """

    ears: Ears
    voice: SpokenVoice

    def listen(self, grammar: Grammar, patience: float) -> Reply:
        """Give the tone, and wait for one reply."""
        self.voice.begin(sound_of(Earcon.LISTENING))
        return self.ears.listen(grammar, patience)
