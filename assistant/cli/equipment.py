"""The recogniser, the voice and the ears that the user asked for."""

from __future__ import annotations

import argparse
import contextlib
import functools
import sys
from collections.abc import Callable, Iterable, Iterator, Mapping
from contextlib import AbstractContextManager
from dataclasses import dataclass, field
from pathlib import Path

import platformdirs

from assistant.cli.chosen_devices import chosen
from assistant.cli.complaint import Complaint
from assistant.journal.replay import Happened
from assistant.language.answers import hold_only
from assistant.language.english import english
from assistant.session.effects import Adjust, Adjustment
from assistant.speech.devices.endpoint import Detector
from assistant.speech.devices.microphone import SoundSource
from assistant.speech.devices.push_to_talk import PushToTalk, TalkSwitch
from assistant.speech.ears import Ears, Recogniser, Samples
from assistant.speech.models.catalogue import models_folder
from assistant.speech.pacing import ticks
from assistant.speech.pressed import LinesWithPresses, PressableEars, Presses, SoundWithPresses
from assistant.speech.typed import TypedEars
from assistant.speech.voice.rendering import Manner, Renderer
from assistant.speech.voice.voices import FolderVoice, PrintedVoice, SpokenVoice, Voice

__all__ = [
    "CHANGES",
    "DEFAULT_RECOGNISER",
    "DETECTOR",
    "RECOGNISERS",
    "Hearing",
    "Wish",
    "add_recogniser",
    "add_talk",
    "add_voice",
    "add_wake_word",
    "adjuster",
    "cache_folder",
    "closing_voice",
    "ears_on",
    "open_ears",
    "open_microphone",
    "open_recogniser",
    "open_renderer",
    "open_voice",
    "open_voice_and_ears",
    "pacer",
    "wished",
]

DEFAULT_RECOGNISER = "moonshine"
RECOGNISERS = {
    "moonshine": "moonshine-tiny-en",
    "moonshine-base": "moonshine-base-en",
    "vosk": "vosk-en-small",
}
"""The recognisers, and the model folder of each."""

OPEN, KEY = "open", "key"
"""When speech counts: always, or after a key; anything else is the device file of a pedal."""

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

DETECTOR = "silero-vad"
"""The model folder of what tells speech from noise at the microphone."""


@dataclass(frozen=True, slots=True)
class Hearing:
    """How the program is to hear.

    Args:
        where: ``mic``, ``typed``, or a folder of recordings.
        recogniser: what reads the sound.
        presses: what is pressed is a reply too; not with recordings.
        talk: when what the microphone hears counts (see `open_microphone`).
        wake_word: what has to be said before a reply at the microphone; empty for nothing.
    """

    where: str
    recogniser: str
    presses: Presses | None = None
    talk: str = OPEN
    wake_word: str = ""


def cache_folder() -> Path:
    """Where rendered prompts and the recogniser's computed tables are kept."""
    return platformdirs.user_cache_path("gloveside", appauthor=False)


def add_recogniser(parser: argparse.ArgumentParser) -> None:
    """Let the user choose the recogniser."""
    parser.add_argument(
        "--recogniser",
        choices=RECOGNISERS,
        default=DEFAULT_RECOGNISER,
        help="which recogniser listens (default: %(default)s)",
    )


def open_recogniser(name: str) -> Recogniser:
    """A recogniser, loaded from its model folder where it has not been before.

    Raises:
        Complaint: its model was not fetched.
        ModelError: its model cannot be used.
    """
    return _loaded(name, _model("recogniser", RECOGNISERS[name]))


@functools.cache
def _loaded(name: str, folder: Path) -> Recogniser:
    """Once: it would be loaded anew at every return of a headset."""
    # Each engine is large, and only one is used.
    if name == "vosk":
        from assistant.speech.vosk_recogniser import Vosk  # noqa: PLC0415

        return Vosk.load(folder)
    from assistant.speech.moonshine.recogniser import Moonshine  # noqa: PLC0415

    return Moonshine.load(folder, cache_folder() / "recogniser")


def _model(whose: str, name: str) -> Path:
    """The folder of a model, which must be there."""
    folder = models_folder() / name
    if not folder.is_dir():
        raise Complaint(
            f"{folder}: the {whose}'s model is not there; "
            f"fetch it once with 'gloveside model fetch {name}'"
        )
    return folder


def add_voice(parser: argparse.ArgumentParser, default: str) -> None:
    """Let the user choose how prompts are said."""
    parser.add_argument(
        "--voice",
        default=default,
        metavar="on|off|FOLDER",
        help="speak, print, or write WAV files to a folder (default: %(default)s)",
    )


def add_talk(parser: argparse.ArgumentParser) -> None:
    """Let the user choose when what is said counts."""
    parser.add_argument(
        "--talk",
        default=OPEN,
        metavar="open|key|DEVICE",
        help="when speech counts: always; after any key at the terminal, until the end of speech; "
        "or while a pedal or button (/dev/input/...) is held down (default: %(default)s)",
    )


def add_wake_word(parser: argparse.ArgumentParser) -> None:
    """Let the user set a word without which nothing counts at the microphone but "hold"."""
    parser.add_argument(
        "--wake-word",
        default="",
        metavar="WORD",
        help="a reply at the microphone counts only after this word; hold also without it",
    )


@contextlib.contextmanager
def open_renderer() -> Iterator[Renderer]:
    """The renderer of speech, with its worker process ended afterwards."""
    with Renderer(cache_folder() / "speech") as renderer:
        yield renderer


def open_voice(where: str, renderer: Renderer) -> Voice:
    """The voice that the user chose."""
    if where == "off":
        return PrintedVoice(sys.stdout)
    if where == "on":
        from assistant.speech.devices.loudspeaker import Loudspeaker  # noqa: PLC0415

        return SpokenVoice(renderer, Loudspeaker(chosen("loudspeaker")))
    return FolderVoice(Path(where), renderer)


@contextlib.contextmanager
def closing_voice(voice: Voice) -> Iterator[None]:
    """Let go of the loudspeaker in the end, if the voice has one."""
    try:
        yield
    finally:
        if isinstance(voice, SpokenVoice):
            voice.close()


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


@contextlib.contextmanager
def open_ears(hearing: Hearing) -> Iterator[Ears]:
    """The ears that the user chose."""
    if hearing.where == "typed":
        presses = hearing.presses
        yield TypedEars(sys.stdin) if presses is None else LinesWithPresses(sys.stdin, presses)
        return
    if hearing.where == "mic":
        with open_microphone(hearing.talk) as microphone:
            yield _ears_at(microphone, open_recogniser(hearing.recogniser), hearing)
        return
    from assistant.speech.clips import ClipEars  # noqa: PLC0415

    yield ClipEars(Path(hearing.where), open_recogniser(hearing.recogniser))


@contextlib.contextmanager
def open_voice_and_ears(
    voice: str, renderer: Renderer, hearing: Hearing
) -> Iterator[tuple[Voice, Ears]]:
    """The voice and the ears that the user chose; see `open_voice` and `open_ears`."""
    if (voice, hearing.where) == ("on", "mic"):
        with _open_headset(renderer, hearing) as both:
            yield both
        return
    opened = open_voice(voice, renderer)
    with closing_voice(opened), open_ears(hearing) as ears:
        yield opened, ears


@contextlib.contextmanager
def open_microphone(talk: str = OPEN) -> Iterator[SoundSource]:
    """The microphone, open.

    Args:
        talk: when what it hears counts: always, after a key (`KEY`), or while the pedal with this
            device file is held down.

    Raises:
        DeviceError: there is none, or no such switch.
    """
    from assistant.speech.devices.microphone import Microphone  # noqa: PLC0415

    with Microphone(chosen("microphone")) as microphone:
        if talk == OPEN:
            yield microphone
            return
        with _open_switch(talk) as switch:
            yield PushToTalk(microphone, switch)


def _open_switch(talk: str) -> AbstractContextManager[TalkSwitch]:
    from assistant.speech.devices import talk_switches  # noqa: PLC0415 - not on every system

    if talk == KEY:
        print("Press any key, then speak.", file=sys.stderr)
        return talk_switches.open_terminal_key(sys.stdin.fileno())
    return talk_switches.open_pedal(Path(talk))


@contextlib.contextmanager
def _open_headset(renderer: Renderer, hearing: Hearing) -> Iterator[tuple[Voice, Ears]]:
    """Loudspeaker and microphone together: "hold" and an early reply are heard over a prompt.

    Raises:
        DeviceError: one of them is not there.
    """
    from assistant.speech.devices.barge_in import (  # noqa: PLC0415
        BargeIn,
        EarsAfterBargeIn,
        Hotword,
    )
    from assistant.speech.devices.early_reply import EarlyReply  # noqa: PLC0415
    from assistant.speech.devices.loudspeaker import Loudspeaker  # noqa: PLC0415

    loudspeaker = Loudspeaker(chosen("loudspeaker"))
    # The microphone first: while it is not there, nothing is loaded for each look.
    with open_microphone(hearing.talk) as microphone:
        recogniser = open_recogniser(hearing.recogniser)
        detector, hold = _detector(), hold_only(english())

        def hotword(played: Samples) -> Hotword:
            return Hotword(played, detector, recogniser, hold)

        presses = hearing.presses or Presses()
        barge_in = BargeIn(
            loudspeaker, microphone, hotword, functools.partial(presses.take_hold, hold)
        )
        voice = SpokenVoice(renderer, barge_in)
        with closing_voice(voice):
            ears = _ears_at(EarlyReply(microphone, barge_in), recogniser, hearing)
            yield voice, EarsAfterBargeIn(barge_in, ears)


def _ears_at(source: SoundSource, recogniser: Recogniser, hearing: Hearing) -> Ears:
    """Ears on a microphone that is open, and on what is pressed, if anything may be."""
    presses = hearing.presses
    ears = ears_on(SoundWithPresses(source, presses) if presses else source, recogniser)
    if hearing.wake_word:
        from assistant.speech.devices.wake_word_ears import WakeWordEars  # noqa: PLC0415

        _refuse_unheard(hearing.wake_word, recogniser)
        ears = WakeWordEars(ears, hearing.wake_word, english())
    return PressableEars(ears) if presses else ears


def _refuse_unheard(word: str, recogniser: Recogniser) -> None:
    """Refuse a wake word after which nothing could be understood.

    Raises:
        Complaint: the recogniser knows a list of words only, and this is none of them.
    """
    from assistant.speech.vosk_recogniser import Vosk  # noqa: PLC0415

    if isinstance(recogniser, Vosk) and not recogniser.knows(word):
        raise Complaint(
            f"the model of {recogniser.name} cannot hear the wake word '{word}': choose another"
        )


def _detector() -> Detector:
    """What tells speech from noise in one stream of sound."""
    from assistant.speech.devices.voice_activity import VoiceActivity  # noqa: PLC0415

    return VoiceActivity.load(_model("microphone", DETECTOR))


def ears_on(source: SoundSource, recogniser: Recogniser) -> Ears:
    """Ears on a microphone that is open.

    Raises:
        Complaint: the model that tells speech from noise was not fetched.
        ModelError: it cannot be used.
    """
    from assistant.speech.devices.microphone_ears import MicrophoneEars  # noqa: PLC0415

    return MicrophoneEars(source, _detector(), recogniser)


def pacer(voice: Voice) -> Callable[[float], None]:
    """What gives a pace: the loudspeaker ticks, and any other voice is left as it is."""

    def give(per_minute: float) -> None:
        if isinstance(voice, SpokenVoice):
            voice.play(ticks(per_minute))

    return give
