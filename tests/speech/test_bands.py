"""The bands of the sound: a mel filter bank and its two views."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from assistant.speech.ears import SAMPLE_RATE, Samples
from assistant.speech.moonshine.speller.bands import (
    BANDS,
    FRAME,
    HOP,
    SPECTRUM,
    TOGETHER,
    VALUES,
    WINDOW,
    Bands,
    bands,
    centres,
    mel,
)


def noise(seconds: float, seed: int = 1) -> Samples:
    chance = np.random.default_rng(seed)
    return np.asarray(0.1 * chance.standard_normal(int(seconds * SAMPLE_RATE)), np.float32)


def views(frames: Bands) -> tuple[Bands, Bands]:
    """Against the loudest, and above what is quiet; shape (spectra, bands) each."""
    spectra = frames.reshape(-1, 2 * BANDS)
    return spectra[:, :BANDS], spectra[:, BANDS:]


def test_a_thousand_hertz_are_a_thousand_mel() -> None:
    # O'Shaughnessy, Speech communication: human and machine, 1987: 2595 log10(1 + f/700).
    assert mel(1_000) == pytest.approx(1_000, abs=0.1)
    assert mel(0) == 0


def test_bands_are_equally_far_apart_on_the_mel_scale() -> None:
    heights = [mel(frequency) for frequency in centres()]
    assert np.diff(heights) == pytest.approx(np.full(BANDS - 1, heights[1] - heights[0]))


@settings(max_examples=20, deadline=None)
@given(st.integers(0, BANDS - 1))
def test_a_tone_is_strongest_in_the_band_that_peaks_there(band: int) -> None:
    time = np.arange(SAMPLE_RATE) / SAMPLE_RATE
    tone = np.sin(2 * np.pi * centres()[band] * time).astype(np.float32)
    loudness, _ = views(bands(tone))
    assert abs(int(loudness.mean(axis=0).argmax()) - band) <= (1 if band < 10 else 0)


def test_a_spectrum_is_that_of_the_definition() -> None:
    """One band of one spectrum by the discrete Fourier transform written out, and a triangle."""
    sound = noise(0.3)
    at, band = 5, 20
    windowed = sound[at * HOP : at * HOP + WINDOW].astype(np.float64) * np.hanning(WINDOW)
    turns = np.outer(np.arange(SPECTRUM // 2 + 1), np.arange(WINDOW)) / SPECTRUM
    power = np.abs(np.exp(-2j * np.pi * turns) @ windowed) ** 2
    low, peak, high = centres()[band - 1 : band + 2]
    frequencies = np.arange(SPECTRUM // 2 + 1) * SAMPLE_RATE / SPECTRUM
    expected = power @ np.interp(frequencies, [low, peak, high], [0.0, 1.0, 0.0])
    loudness, _ = views(bands(sound))
    below = 2  # the ratio to another band of the same spectrum does not depend on the loudest
    low, peak, high = centres()[below - 1 : below + 2]
    other = power @ np.interp(frequencies, [low, peak, high], [0.0, 1.0, 0.0])
    told = float(loudness[at, band] - loudness[at, below])
    assert told == pytest.approx(np.log(expected / other), abs=0.02)


def test_how_loud_the_whole_is_makes_no_difference() -> None:
    sound = noise(0.5)
    assert bands(np.float32(0.01) * sound) == pytest.approx(bands(sound), abs=1e-3)


def test_a_steady_noise_is_taken_away_whatever_its_colour() -> None:
    coloured = np.asarray(np.convolve(noise(2.0), np.ones(8) / 8, mode="same"), np.float32)
    for sound in (noise(2.0), coloured):
        _, above = views(bands(sound))
        # A band's power in noise is spread by some nat or two about its quiet level.
        assert 0.0 < above.mean() < 1.5


def test_a_frame_is_made_of_three_spectra_and_the_last_is_filled() -> None:
    frames = bands(noise(1.0))
    spectra = 1 + (SAMPLE_RATE - WINDOW) // HOP
    assert frames.shape == (-(-spectra // TOGETHER), VALUES)
    assert FRAME == TOGETHER * HOP
    assert np.isfinite(bands(np.pad(noise(0.2), (4_000, 4_000)))).all()
