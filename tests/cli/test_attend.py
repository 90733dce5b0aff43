"""A device that fails in a job: what is told, what is written, and that it goes on."""

from __future__ import annotations

import contextlib
from collections.abc import Iterator
from pathlib import Path

import pytest

from assistant.cli import attend as attending
from assistant.cli.attend import STANDS_STILL, attend
from assistant.cli.conduct import Conductor
from assistant.cli.speaker import Speaker
from assistant.journal.store import Journal
from assistant.language.grammar import Grammar
from assistant.speech.ears import Ended, Reply, Silence
from assistant.speech.errors import DeviceError
from assistant.speech.fakes import FakeVoice
from tests.session.job import two_ends_session


class Failing:
    """Ears of which some fail."""

    def __init__(self, *replies: Reply | DeviceError) -> None:
        self.replies = list(replies)

    def listen(self, grammar: Grammar, patience: float) -> Reply:
        reply = self.replies.pop(0) if self.replies else Ended()
        if isinstance(reply, DeviceError):
            raise reply
        return reply
