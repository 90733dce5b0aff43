"""The ears that the user chose."""

from __future__ import annotations

import argparse
import contextlib
import sys
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from assistant.cli.complaint import Complaint
from assistant.cli.folders import model_folder, require_model
from assistant.cli.microphone import OPEN, open_microphone
from assistant.cli.recognisers import RECOGNISERS, open_recogniser
from assistant.language.english import english
from assistant.speech.devices.endpoint import Detector
from assistant.speech.devices.microphone import SoundSource
from assistant.speech.ears import Ears, Recogniser
from assistant.speech.pressed import LinesWithPresses, PressableEars, Presses, SoundWithPresses
from assistant.speech.typed import TypedEars

__all__ = [
    "DETECTOR",
    "Hearing",
    "add_wake_word",
    "ears_at",
    "ears_on",
    "open_detector",
    "open_ears",
    "require_models",
]

DETECTOR = "silero-vad"
"""The model of what tells speech from noise at the microphone."""


@dataclass(frozen=True, slots=True)
class Hearing:
    """How the program is to hear.

    Args:
        where: ``mic``, ``typed``, or a folder of recordings.
        recogniser: what reads the sound.
        presses: what is pressed is a reply too; not with recordings.
        talk: when what the microphone hears counts (see `open_microphone`).
        wake_word: what has to be said before a reply at the microphone; empty for nothing.
        heard: SHA-256 of each clip that the job has already, so that a folder of recordings goes on
            after the last that was heard.
    """

    where: str
    recogniser: str
    presses: Presses | None = None
    talk: str = OPEN
    wake_word: str = ""
    heard: tuple[str, ...] = ()


def add_wake_word(parser: argparse.ArgumentParser) -> None:
    """Let the user set a word without which nothing counts at the microphone but "hold"."""
    parser.add_argument(
        "--wake-word",
        default="",
        metavar="WORD",
        help="a reply at the microphone counts only after this word; hold also without it",
    )


@contextlib.contextmanager
def open_ears(hearing: Hearing) -> Iterator[Ears]:
    """The ears that the user chose."""
    if hearing.where == "typed":
        presses = hearing.presses
        yield TypedEars(sys.stdin) if presses is None else LinesWithPresses(sys.stdin, presses)
        return
    if hearing.where == "mic":
        with open_microphone(hearing.talk) as microphone:
            yield ears_at(microphone, open_recogniser(hearing.recogniser), hearing)
        return
    from assistant.cli.recordings import heard_already  # noqa: PLC0415
    from assistant.speech.clips import ClipEars, clips_in  # noqa: PLC0415

    folder = Path(hearing.where)
    heard = heard_already(clips_in(folder), hearing.heard)
    yield ClipEars(folder, open_recogniser(hearing.recogniser), heard)


def require_models(where: str, recogniser: str) -> None:
    """Look whether the models are there with which one is to hear, before a job is begun.

    Args:
        where: as in `Hearing`.
        recogniser: what is to read the sound.

    Raises:
        Complaint: one was not fetched.
    """
    if where != "typed":
        require_model("recogniser", RECOGNISERS[recogniser].model)
    if where == "mic":
        require_model("microphone", DETECTOR)


def ears_at(source: SoundSource, recogniser: Recogniser, hearing: Hearing) -> Ears:
    """Ears on a microphone that is open, with wake word and presses as they were asked for.

    Raises:
        Complaint: the model that tells speech from noise was not fetched, or the recogniser cannot
            hear the wake word.
        ModelError: the model cannot be used.
    """
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


def ears_on(source: SoundSource, recogniser: Recogniser) -> Ears:
    """Ears on a microphone that is open.

    Raises:
        Complaint: the model that tells speech from noise was not fetched.
        ModelError: it cannot be used.
    """
    from assistant.speech.devices.microphone_ears import MicrophoneEars  # noqa: PLC0415

    return MicrophoneEars(source, open_detector(), recogniser)


def open_detector() -> Detector:
    """What tells speech from noise in one stream of sound.

    Raises:
        Complaint: its model was not fetched.
        ModelError: it cannot be used.
    """
    from assistant.speech.devices.voice_activity import VoiceActivity  # noqa: PLC0415

    return VoiceActivity.load(model_folder("microphone", DETECTOR))
