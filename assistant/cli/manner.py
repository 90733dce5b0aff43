"""How the technician wants to be spoken to: slower, louder, and so on."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field

from assistant.journal.replay import Happened
from assistant.session.effects import Adjust, Adjustment
from assistant.speech.voice.rendering import Manner
from assistant.speech.voice.voices import FolderVoice, SpokenVoice, Voice

__all__ = ["CHANGES", "Wish", "adjuster", "wished"]

CHANGES: Mapping[Adjustment, tuple[Callable[[Manner], Manner], str]] = {
    Adjustment.SLOWER: (Manner.slower, "This is as slow as it goes."),
    Adjustment.FASTER: (Manner.faster, "This is as fast as it goes: it has to be understood."),
    Adjustment.LOUDER: (
        Manner.louder,
        "This is as loud as it goes. Louder would break up: turn the loudspeaker up instead.",
    ),
    Adjustment.SOFTER: (
        Manner.softer,
        "This is as soft as it goes: a caution has to be heard.",
    ),
}
"""How the voice is changed, and what is said where that changes nothing any more."""


@dataclass(slots=True)
class Wish:
    """How the technician wants to be spoken to.

    It outlives a headset that dropped out, and the program (`wished`).
    """

    manner: Manner = field(default_factory=Manner)


def wished(happened: Iterable[Happened]) -> Wish:
    """What was wished in a job before it was interrupted."""
    manner = Manner()
    for _, effects in happened:
        for effect in effects:
            if isinstance(effect, Adjust):
                change, _ = CHANGES[effect.how]
                manner = change(manner)
    return Wish(manner)


def adjuster(voice: Voice, wish: Wish) -> Callable[[Adjust], None]:
    """What "slower" and its like do to a voice, which says so where it can do no more.

    Args:
        voice: speaks as wished from now on.
        wish: what was asked for before, and is kept up to date.
    """
    if not isinstance(voice, SpokenVoice | FolderVoice):
        return lambda _effect: None
    voice.manner = wish.manner

    def adjust(effect: Adjust) -> None:
        change, no_more = CHANGES[effect.how]
        before, wish.manner = wish.manner, change(wish.manner)
        voice.manner = wish.manner
        if wish.manner == before:
            voice.say(no_more)

    return adjust
