"""The voice and the ears that the user chose, opened together."""

from __future__ import annotations

import contextlib
from collections.abc import Iterator

from assistant.cli.chosen_devices import chosen
from assistant.cli.hearing import Hearing, ears_at, open_detector, open_ears
from assistant.cli.microphone import open_microphone
from assistant.cli.recognisers import open_recogniser
from assistant.cli.voices import closing_voice, open_voice
from assistant.language.answers import hold_only
from assistant.language.english import english
from assistant.speech.devices.untaken_word import UntakenWord
from assistant.speech.ears import Ears, Samples
from assistant.speech.pressed import Presses
from assistant.speech.voice.rendering import Renderer
from assistant.speech.voice.voices import SpokenVoice, Voice

__all__ = ["open_voice_and_ears"]


@contextlib.contextmanager
def open_voice_and_ears(
    voice: str, renderer: Renderer, hearing: Hearing, untaken: UntakenWord
) -> Iterator[tuple[Voice, Ears]]:
    """The voice and the ears that the user chose; see `open_voice` and `open_ears`.

    Args:
        voice: where speech goes.
        renderer: makes sound of it.
        hearing: how the program is to hear.
        untaken: the word that cut the program off and waits; the same at each opening in a job.

    Raises:
        DeviceError: a device is not there.
    """
    if (voice, hearing.where) == ("on", "mic"):
        with _open_headset(renderer, hearing, untaken) as both:
            yield both
        return
    opened = open_voice(voice, renderer)
    with closing_voice(opened), open_ears(hearing) as ears:
        yield opened, ears


@contextlib.contextmanager
def _open_headset(
    renderer: Renderer, hearing: Hearing, untaken: UntakenWord
) -> Iterator[tuple[Voice, Ears]]:
    """Loudspeaker and microphone together: "hold" and an early reply are heard over a prompt.

    Raises:
        DeviceError: one of them is not there.
    """
    from assistant.speech.devices.barge_in import BargeIn, EarsAfterBargeIn  # noqa: PLC0415
    from assistant.speech.devices.early_reply import EarlyReply  # noqa: PLC0415
    from assistant.speech.devices.hotword import Hotword  # noqa: PLC0415
    from assistant.speech.devices.loudspeaker import Loudspeaker  # noqa: PLC0415

    loudspeaker = Loudspeaker(chosen("loudspeaker"))
    # The microphone first: while it is not there, nothing is loaded for each look.
    with open_microphone(hearing.talk) as microphone:
        recogniser = open_recogniser(hearing.recogniser)
        detector, hold = open_detector(), hold_only(english())

        def hotword(played: Samples) -> Hotword:
            return Hotword(played, detector, recogniser, hold)

        presses = hearing.presses or Presses(hold)
        barge_in = BargeIn(loudspeaker, microphone, hotword, presses.take_hold, untaken)
        voice = SpokenVoice(renderer, barge_in)
        with closing_voice(voice):
            ears = ears_at(EarlyReply(microphone, barge_in), recogniser, hearing)
            yield voice, EarsAfterBargeIn(barge_in, ears)
