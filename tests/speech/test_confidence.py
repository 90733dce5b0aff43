"""How far a reading may be believed: what the fitted weights have to keep to."""

from __future__ import annotations

import hashlib
import math
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
import yaml
from hypothesis import given
from hypothesis import strategies as st

from assistant.language.meaning import Command, Word
from assistant.speech.ears import SAMPLE_RATE
from assistant.speech.errors import ModelError
from assistant.speech.moonshine.confidence import (
    BORROWED_LEVEL,
    BOUNDS,
    FILE,
    NEAR,
    Calibration,
    Evidence,
)
from assistant.speech.moonshine.readings import Reading
from assistant.speech.moonshine.rival import Rival
from assistant.speech.moonshine.second_hearing import is_doubtful, slower
from assistant.speech.moonshine.speller.network import OF_BANDS, OF_ENCODER
from assistant.speech.moonshine.speller.speller import Spelling

CALIBRATION = Calibration.load()
NAN = FILE.read_text(encoding="utf-8").replace(f"level: {CALIBRATION.level}", "level: .nan")
YES, NO = Command(Word.YES), Command(Word.NO)
nats = st.floats(-60.0, 0.0)


def evidence(
    heard: float, unheard: float, spelled: float, rival: float, other: float | None = None
) -> Evidence:
    spelling = Spelling(spelled, spelled)
    best = Reading(YES, "Yes.", heard, unheard, spelling)
    second = None if other is None else Reading(NO, "No.", other, unheard, spelling)
    return Evidence(best, second, Rival((), rival))


def found(second: Evidence | None) -> Callable[[], Evidence | None]:
    """A second hearing that finds this."""
    return lambda: second


@given(nats, nats, nats, nats, st.floats(0.0, 20.0))
def test_what_speaks_for_a_reading_never_lowers_its_confidence(
    heard: float, unheard: float, spelled: float, rival: float, more: float
) -> None:
    told = evidence(heard, unheard, spelled, rival)
    stated = CALIBRATION.confidence_by_one(told)
    assert 0.0 <= stated <= 1.0
    better = (
        evidence(heard, unheard - more, spelled, rival),
        evidence(heard, unheard, spelled + more, rival),
        evidence(heard, unheard, spelled, rival - more),
    )
    for one in better:
        assert CALIBRATION.confidence_by_one(one) >= stated - 1e-9


@given(nats, st.floats(0.0, 20.0))
def test_another_reading_that_is_nearer_never_raises_it(heard: float, nearer: float) -> None:
    far = evidence(heard, -20.0, 0.0, heard, other=heard - 20.0)
    near = evidence(heard, -20.0, 0.0, heard, other=heard - 20.0 + nearer)
    assert CALIBRATION.confidence_by_one(near) <= CALIBRATION.confidence_by_one(far) + 1e-9


@given(nats, nats, nats, nats)
def test_of_two_readings_that_are_equally_good_none_is_believed(
    heard: float, unheard: float, spelled: float, rival: float
) -> None:
    # At most one of the two is right (arithmetic).
    equal = evidence(heard, unheard, spelled, rival, other=heard)
    assert CALIBRATION.confidence_by_one(equal) <= 0.5 < CALIBRATION.level


@pytest.mark.parametrize(("margin", "near"), [(NEAR - 0.1, True), (NEAR + 0.1, False)])
def test_only_a_near_reading_is_what_is_in_doubt(margin: float, near: bool) -> None:
    told = evidence(-1.0, -9.0, 0.0, -1.0, other=-1.0 - margin)
    assert (told.near is not None) is near


def test_without_another_reading_nothing_is_near() -> None:
    told = evidence(-1.0, -9.0, 0.0, -1.0)
    assert told.margin == math.inf
    assert told.near is None
    name = "margin by decoder and bands"
    assert told.measured()[name] == BOUNDS[name][1]


def test_what_only_the_encoders_speller_prefers_is_no_surer_for_that() -> None:
    # It hears through the decoder's encoder: its preference is no independent one. Of equally good
    # readings none is believed all the same, and that counts the whole margin (see above).
    best = Reading(YES, "Yes.", -1.0, -20.0, Spelling(by_encoder=-1.0, by_bands=-1.0))
    stated = []
    for by_encoder in (-1.0, -19.0):
        other = Reading(NO, "No.", -7.0, -20.0, Spelling(by_encoder, by_bands=-1.0))
        stated.append(CALIBRATION.confidence_by_one(Evidence(best, other, Rival((), -1.0))))
    assert stated[0] == stated[1]


def test_a_longer_reply_is_believed_sooner() -> None:
    # Noise resembles a short one (measured on development speech by tests/bench/calibrate.py).
    short, longer = (
        Evidence(Reading(YES, text, -3.0, -9.0, Spelling()), None, Rival((), -1.0))
        for text in ("Yes.", "Yes correct.")
    )
    assert CALIBRATION.confidence_by_one(short) < CALIBRATION.confidence_by_one(longer)


@given(nats, nats, nats, nats)
def test_where_the_second_hearing_finds_something_else_nothing_is_believed_but_hold(
    heard: float, unheard: float, spelled: float, rival: float
) -> None:
    first = evidence(heard, unheard, spelled, rival)
    hold = replace(first, best=replace(first.best, meaning=Command(Word.HOLD)))
    alone = CALIBRATION.confidence_by_one(first)
    for second in (None, replace(first, best=replace(first.best, meaning=NO))):
        stated = CALIBRATION.confidence(first, found(second))
        assert stated < CALIBRATION.level or not is_doubtful(alone)
        # "Hold" has to work always (common practice, no source).
        assert CALIBRATION.confidence(hold, found(second)) >= alone


@given(nats, nats, nats, nats, st.floats(0.0, 20.0))
def test_a_second_hearing_that_is_surer_never_lowers_the_confidence(
    heard: float, unheard: float, spelled: float, rival: float, more: float
) -> None:
    first = evidence(heard, unheard, spelled, rival)
    surer = evidence(heard, unheard - more, spelled, rival)
    same, better = (CALIBRATION.confidence(first, found(again)) for again in (first, surer))
    assert 0.0 <= same <= better + 1e-9 <= 1.0 + 1e-9


@given(nats, nats, nats, nats)
def test_of_two_readings_that_are_equally_good_in_both_hearings_none_is_believed(
    heard: float, unheard: float, spelled: float, rival: float
) -> None:
    # At most one of the two is right (arithmetic).
    equal = evidence(heard, unheard, spelled, rival, other=heard)
    assert CALIBRATION.confidence(equal, lambda: equal) <= 0.5


def test_what_means_nothing_is_not_heard_again() -> None:
    told = evidence(-1.0, -9.0, 0.0, -1.0)
    nothing = replace(told, best=replace(told.best, meaning=None))
    stated = CALIBRATION.confidence(nothing, lambda: pytest.fail("heard again"))
    assert stated == CALIBRATION.confidence_by_one(nothing)


def test_what_is_heard_again_is_as_loud_as_samples_can_be() -> None:
    # A full-scale square wave overshoots when it is resampled (Gibbs).
    loud = np.where(np.arange(SAMPLE_RATE) // 20 % 2, 1.0, -1.0).astype(np.float32)
    assert np.abs(slower(loud)).max() == 1.0


def test_what_is_heard_again_is_longer_and_lower_by_a_sixteenth() -> None:
    # A tone that is played 17/16 slower sounds at 16/17 of its pitch (arithmetic).
    seconds = 1.0
    at = np.arange(int(seconds * SAMPLE_RATE)) / SAMPLE_RATE
    heard = slower(np.sin(2 * np.pi * 1_700 * at).astype(np.float32))
    assert len(heard) == SAMPLE_RATE * 17 // 16
    spectrum = np.abs(np.fft.rfft(heard))
    assert spectrum.argmax() * SAMPLE_RATE / len(heard) == pytest.approx(1_600, abs=1)


def test_the_calibration_tells_on_what_it_was_fitted() -> None:
    assert "development part" in CALIBRATION.fitted_on
    assert 0.5 <= CALIBRATION.level <= 0.95


def test_the_calibration_was_fitted_on_what_these_networks_spell() -> None:
    """A network that was taught since is believed as the one before: calibrate anew."""
    digests = {
        file.stem: hashlib.sha256(file.read_bytes()).hexdigest() for file in (OF_BANDS, OF_ENCODER)
    }
    assert yaml.safe_load(FILE.read_text(encoding="utf-8"))["networks"] == digests


@pytest.mark.parametrize("content", [None, "", "level: high", "weights: [1", "level: 0.8", NAN])
def test_a_missing_or_damaged_calibration_is_named_with_the_remedy(
    tmp_path: Path, content: str | None
) -> None:
    file = tmp_path / "calibration.yaml"
    if content is not None:
        file.write_text(content, encoding="utf-8")
    with pytest.raises(ModelError, match=r"calibration\.yaml.*install gloveside again"):
        Calibration.load(file)


def test_a_borrowed_calibration_believes_only_what_seems_sure() -> None:
    borrowed = CALIBRATION.borrowed()
    assert borrowed.level == max(BORROWED_LEVEL, CALIBRATION.level)
    told = evidence(-1.0, -9.0, 0.0, -1.0)
    assert borrowed.confidence_by_one(told) == CALIBRATION.confidence_by_one(told)
