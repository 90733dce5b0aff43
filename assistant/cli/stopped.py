"""A running job that an error ends: the last words of the voice, and the error in words.

The technician sees no screen: without last words, whoever is in the housing goes on with the valve
and answers a program that has ended.
"""

from __future__ import annotations

import contextlib
import traceback
from pathlib import Path

from assistant.cli.complaint import Complaint
from assistant.journal.store import JournalError
from assistant.session import wording
from assistant.session.core import Session
from assistant.speech.errors import SpeechError
from assistant.speech.voice.voices import SpokenVoice, Voice

__all__ = ["in_words", "keep_ready", "last_words", "say_last_words"]


def last_words(session: Session) -> tuple[str, ...]:
    """What is to be done now; with the supply on, the motor may be running."""
    if session.supply_may_be_on:
        return wording.STOPPED_ENERGISED, wording.JOB_STOPPED
    return (wording.JOB_STOPPED,)


def keep_ready(voice: Voice) -> None:
    """Have all last words ready before they are needed: a full disk lets no more be rendered."""
    if isinstance(voice, SpokenVoice):
        with contextlib.suppress(SpeechError):  # the first prompt tells what is wrong
            for text in (wording.STOPPED_ENERGISED, wording.JOB_STOPPED):
                voice.keep_ready(text)


def say_last_words(voice: Voice, session: Session) -> None:
    """Say them through whatever is left; what fails now does not hide what failed first."""
    for text in last_words(session):
        with contextlib.suppress(Exception):
            if isinstance(voice, SpokenVoice):
                voice.say_kept(text)
            else:
                voice.say(text)


def in_words(error: Exception) -> str:
    """What ended the job; an error that nobody expected by its name and place, on one line."""
    if isinstance(error, Complaint | JournalError | SpeechError):
        return str(error)
    if isinstance(error, BrokenPipeError):
        return "nobody reads any more what the job prints; run it without the command after it"
    place = traceback.extract_tb(error.__traceback__)[-1]
    what = " ".join(f"{type(error).__name__} {error}".split())
    return (
        f"the program itself failed ({what}, in {Path(place.filename).name}, line {place.lineno}); "
        "report this line to whoever looks after the program"
    )
