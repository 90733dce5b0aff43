"""WAV files in and out."""

from __future__ import annotations

import struct
import wave
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from numpy.typing import NDArray

from assistant.speech import wav
from assistant.speech.ears import SAMPLE_RATE
from assistant.speech.errors import AudioError


def tone(rate: int, seconds: float = 0.5) -> NDArray[np.float64]:
    """A 440 Hz tone at half of full scale."""
    return 0.5 * np.sin(2 * np.pi * 440 * np.arange(int(rate * seconds)) / rate)


def coded(samples: NDArray[np.float64], width: int) -> bytes:
    """PCM as RIFF WAVE stores it: 8 bits unsigned, more bits signed, low byte first."""
    if width == 1:
        return bytes(np.round(samples * 127 + 128).astype("u1"))
    whole = np.round(samples * (2 ** (8 * width - 1) - 1)).astype("<i8")
    return bytes(whole.view("u1").reshape(-1, 8)[:, :width].tobytes())


def write_with_library(path: Path, data: bytes, width: int, rate: int, channels: int = 1) -> Path:
    with wave.open(str(path), "wb") as file:
        file.setparams((channels, width, rate, 0, "NONE", ""))
        file.writeframes(data)
    return path


def riff(fmt: bytes, data: bytes, data_size: int | None = None) -> bytes:
    """A RIFF file put together by hand."""
    size = len(data) if data_size is None else data_size
    body = b"WAVEfmt " + struct.pack("<I", len(fmt)) + fmt
    body += b"data" + struct.pack("<I", size) + data
    return b"RIFF" + struct.pack("<I", len(body)) + body


PCM16 = struct.pack("<HHIIHH", 1, 1, 16_000, 32_000, 2, 16)


@pytest.mark.parametrize("width", [1, 2, 3, 4])
@pytest.mark.parametrize("rate", [8_000, 16_000, 22_050, 44_100, 48_000])
def test_a_tone_survives_every_width_and_rate(tmp_path: Path, width: int, rate: int) -> None:
    file = write_with_library(tmp_path / "a.wav", coded(tone(rate), width), width, rate)
    samples = wav.read(file)
    assert samples.dtype == np.float32
    assert abs(len(samples) - SAMPLE_RATE // 2) <= 1
    middle = slice(1_000, -1_000)  # the resampler rings at the ends
    step = 2.0 ** (1 - 8 * width)  # one step of the coding: what its rounding may cost
    expected = tone(SAMPLE_RATE)[: len(samples)]
    assert np.abs(samples[: len(expected)] - expected)[middle].max() < 2 * step + 1e-3


def test_stereo_is_averaged(tmp_path: Path) -> None:
    left, right = np.full(100, 0.5), np.full(100, 0.25)
    data = coded(np.column_stack([left, right]).ravel(), 2)
    samples = wav.read(write_with_library(tmp_path / "a.wav", data, 2, SAMPLE_RATE, 2))
    assert samples == pytest.approx(np.full(100, 0.375), abs=1e-4)


def test_an_extensible_header_is_read(tmp_path: Path) -> None:
    # WAVEFORMATEXTENSIBLE of mmreg.h, from memory: size 22, valid bits, speakers, sub-format GUID
    # whose first two bytes are the format code.
    fmt = struct.pack("<HHIIHH", 0xFFFE, 1, 16_000, 48_000, 3, 24)
    fmt += struct.pack("<HHIH", 22, 24, 4, 1) + bytes.fromhex("000000001000800000aa00389b71")
    (tmp_path / "a.wav").write_bytes(riff(fmt, coded(np.array([0.5, -0.5]), 3)))
    assert wav.read(tmp_path / "a.wav") == pytest.approx([0.5, -0.5], abs=1e-6)


def test_float_samples_are_read_and_others_chunks_skipped(tmp_path: Path) -> None:
    fmt = struct.pack("<HHIIHH", 3, 1, 16_000, 64_000, 4, 32)
    whole = riff(fmt, np.array([0.25, 2.0], "<f4").tobytes())
    note = b"LIST" + struct.pack("<I", 3) + b"abc\0"  # odd chunks are padded to even
    (tmp_path / "a.wav").write_bytes(whole[:12] + note + whole[12:])
    assert wav.read(tmp_path / "a.wav").tolist() == [0.25, 1.0]


def test_a_length_unknown_to_a_pipe_is_taken_from_the_file(tmp_path: Path) -> None:
    (tmp_path / "a.wav").write_bytes(riff(PCM16, b"\0\x40" * 10, 0xFFFFFFFF))
    assert wav.read(tmp_path / "a.wav").tolist() == [0.5] * 10


@given(st.lists(st.integers(-32768, 32767), min_size=1, max_size=50))
@settings(max_examples=50, deadline=None)
def test_sixteen_bits_survive_writing_and_reading(values: list[int]) -> None:
    import tempfile  # noqa: PLC0415 - a fixture folder would be shared by all examples

    with tempfile.TemporaryDirectory() as folder:
        file = Path(folder) / "a.wav"
        wav.write(file, (np.array(values) / 32768).astype(np.float32))
        assert (wav.read(file) * 32768).tolist() == values


def test_writing_clips_and_the_library_reads_it(tmp_path: Path) -> None:
    wav.write(tmp_path / "a.wav", np.array([2.0, -2.0, 0.0], np.float32), 8_000)
    with wave.open(str(tmp_path / "a.wav")) as file:
        assert file.getparams()[:4] == (1, 2, 8_000, 3)
        assert np.frombuffer(file.readframes(3), "<i2").tolist() == [32767, -32768, 0]


def test_the_length_in_seconds(tmp_path: Path) -> None:
    file = write_with_library(tmp_path / "a.wav", bytes(22_050 * 2 * 3), 2, 22_050)
    assert wav.seconds(file) == 3.0
    assert wav.load(file).seconds == 3.0


@pytest.mark.parametrize(
    ("contents", "said"),
    [
        (b"", "not a WAV file"),
        (b"hello, this is a text and no sound at all", "not a WAV file"),
        (riff(PCM16, b"\0\0" * 100)[:80], "cut short"),
        (riff(PCM16, b"\0\0" * 100)[:30], "not a whole WAV file"),
        (riff(PCM16, b""), "holds no sound"),
        (riff(PCM16[:10], b"\0\0"), "header is broken"),
        (riff(struct.pack("<HHIIHH", 2, 1, 8_000, 8_000, 1, 4), b"\0" * 9), "not PCM"),
        (riff(struct.pack("<HHIIHH", 1, 0, 8_000, 0, 0, 16), b"\0" * 8), "0 channels"),
        (riff(struct.pack("<HHIIHH", 1, 1, 0, 0, 2, 16), b"\0" * 8), "0 Hz"),
        (riff(struct.pack("<HHIIHH", 3, 1, 16_000, 0, 4, 32), b"\xff" * 8), "no numbers"),
    ],
)
def test_a_bad_file_is_named_with_a_remedy(tmp_path: Path, contents: bytes, said: str) -> None:
    file = tmp_path / "reply.wav"
    file.write_bytes(contents)
    with pytest.raises(AudioError, match=rf"reply.wav: .*{said}.*; .*(record|convert|copy)"):
        wav.read(file)


def test_missing_huge_and_endless_files_are_refused(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    with pytest.raises(AudioError, match=r"none.wav: cannot be read"):
        wav.read(tmp_path / "none.wav")
    with pytest.raises(AudioError, match="not a file"):
        wav.read(tmp_path)
    huge = tmp_path / "huge.wav"
    with huge.open("wb") as file:
        file.truncate(wav.MOST_BYTES + 1)
    with pytest.raises(AudioError, match=r"huge.wav: 64 MiB, more than 64 MiB"):
        wav.read(huge)
    monkeypatch.setattr(wav, "MOST_SECONDS", 1.0)
    long = write_with_library(tmp_path / "long.wav", bytes(64_000), 2, 16_000)
    with pytest.raises(AudioError, match=r"long.wav: 2 s long, more than 1 s"):
        wav.read(long)


@given(st.binary(max_size=200), st.integers(0, 60))
@settings(max_examples=200, deadline=None)
def test_any_damage_is_an_audio_error_or_sound(noise: bytes, at: int) -> None:
    import tempfile  # noqa: PLC0415

    whole = riff(PCM16, b"\0\x10" * 40)
    with tempfile.TemporaryDirectory() as folder:
        file = Path(folder) / "a.wav"
        file.write_bytes(whole[:at] + noise + whole[at + len(noise) :])
        try:
            assert np.isfinite(wav.read(file)).all()
        except AudioError as error:
            assert "a.wav" in str(error)
