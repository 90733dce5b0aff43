"""Attend to a job through the failures of its devices.

A headset is unplugged, its battery is empty, a sound server is started anew: the job stands still,
which is said through whatever is left, and goes on by itself when the devices are there again. What
was confirmed is in the journal already; what was being said is asked again, and of a finished job
its end is said again. Whatever keeps the devices from being opened again, and is told in words, is
shown and waited for too. Whatever else fails ends the job, and that is said.
"""

from __future__ import annotations

import contextlib
import time
from collections.abc import Callable
from contextlib import AbstractContextManager
from functools import partial
from typing import Any

from assistant.cli.complaint import Complaint
from assistant.cli.conduct import Conductor
from assistant.cli.stopped import keep_ready, say_last_words
from assistant.journal.entry import is_finished
from assistant.session import wording
from assistant.speech.devices.sound_system import look_again
from assistant.speech.errors import DeviceError, SpeechError
from assistant.speech.voice.voices import Voice

__all__ = ["attend"]

BETWEEN_LOOKS = 1.0
"""Between two looks whether the devices are there again [s]."""


def attend(
    opened: Callable[[], AbstractContextManager[Conductor]],
    opening: dict[str, Any] | None,
    show: Callable[[str], None],
) -> None:
    """Conduct a job to its end, or until no more replies come.

    Args:
        opened: opens the devices, and lets go of them in the end.
        opening: what the first entry holds; None for a job that was begun before.
        show: shows that a device has failed, and which, where it can be seen.

    Raises:
        Complaint, SpeechError: a device cannot be opened, or failed, before there was a job.
        JournalError, SpeechError, or anything unexpected: it has ended the job, and the technician
            was told to do nothing more.
    """
    with opened() as conductor:
        lost = _conduct(conductor, partial(_begin, opening=opening), show)
    while lost is not None:
        lost = _go_on(opened, lost, conductor, show)


def _begin(conductor: Conductor, opening: dict[str, Any] | None) -> None:
    if opening is None:
        conductor.resume()
    else:
        conductor.begin(opening)


def _resume(conductor: Conductor, lost: DeviceError) -> None:
    if is_finished(conductor.journal.entries):
        conductor.say_end_again()
    else:
        conductor.resume({"lost": str(lost)})


def _go_on(
    opened: Callable[[], AbstractContextManager[Conductor]],
    lost: DeviceError,
    before: Conductor,
    show: Callable[[str], None],
) -> DeviceError | None:
    """Wait until the devices are there again, and conduct; answer what failed while that went on.

    Args:
        opened: opens the devices.
        lost: what failed.
        before: what conducted the job until then; its voice is all that is left meanwhile.
        show: shows, once, what keeps the devices from being opened.
    """
    told: set[str] = set()
    while True:
        time.sleep(BETWEEN_LOOKS)
        with contextlib.ExitStack() as devices:
            try:
                look_again()
                conductor = devices.enter_context(opened())
            except DeviceError:
                continue  # not there yet
            except (SpeechError, Complaint) as error:
                # No device, and yet it may be mended while the job waits: a file, a full disk.
                if str(error) not in told:
                    show(str(error))
                    told.add(str(error))
                continue
            except Exception:
                say_last_words(before.speaker.voice, before.session)
                raise
            return _conduct(conductor, partial(_resume, lost=lost), show)


def _conduct(
    conductor: Conductor, go: Callable[[Conductor], None], show: Callable[[str], None]
) -> DeviceError | None:
    """Conduct with devices that are open; answer what failed while the job went on.

    Raises:
        DeviceError: a device failed before there was a job.
    """
    try:
        keep_ready(conductor.speaker.voice)
        go(conductor)
    except DeviceError as error:
        if not conductor.journal.entries:
            raise
        show(str(error))
        if not is_finished(conductor.journal.entries):
            _say(conductor.speaker.voice)
        return error
    except Exception:
        say_last_words(conductor.speaker.voice, conductor.session)
        raise
    return None


def _say(voice: Voice) -> None:
    """Say it through whatever is left."""
    with contextlib.suppress(SpeechError):
        voice.say(wording.STANDS_STILL)
