"""What reaches the session from a stretch of sound: as in a job, not whole utterances only."""

from __future__ import annotations

import numpy as np

from assistant.speech.ears import SAMPLE_RATE, Samples
from assistant.speech.fakes import FakeDetector, FakeRecogniser
from tests.bench.parts import Part
from tests.bench.stretches import Timed, listened, per_hour


def bursts(pause: float) -> Samples:
    """Six words of half a second, with pauses between and a long one at the end [s]."""
    loud = np.full(SAMPLE_RATE // 2, 0.1, np.float32)
    quiet = np.zeros(int(pause * SAMPLE_RATE), np.float32)
    return np.concatenate([*[loud, quiet] * 6, np.zeros(3 * SAMPLE_RATE, np.float32)])


def test_a_word_between_others_ends_a_reply_as_in_a_job() -> None:
    """A whole answer is not waited for longer, though the sentence goes on after 0.6 s."""
    ear = FakeRecogniser(["hold"] * 50)
    timed = Timed("ours", ear)
    found = list(listened("talk", bursts(0.6), Part.TEST, FakeDetector(), timed))
    assert len(found) == 6
    assert {one.verdict for one in found} == {"wrong"}


def test_what_is_not_understood_goes_on_over_a_short_pause() -> None:
    ear = FakeRecogniser(["lorry"] * 50)
    found = list(listened("talk", bursts(0.6), Part.TEST, FakeDetector(), Timed("ours", ear)))
    assert [one.verdict for one in found] == ["right"]


def test_false_replies_are_counted_for_an_hour() -> None:
    ear = FakeRecogniser(["hold"] * 50)
    found = list(listened("babble", bursts(0.6), Part.TEST, FakeDetector(), Timed("ours", ear)))
    assert "| babble | ours | 5 | 6 | 6 | 72.0 |" in list(per_hour(found, 5.0, ["ours"]))
