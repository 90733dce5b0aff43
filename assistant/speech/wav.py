"""WAV files: any PCM in, 16-bit mono at `SAMPLE_RATE` out.

Layout: Microsoft, Multimedia Programming Interface and Data Specifications 1.0 (1991), RIFF and
WAVE; the extensible header is that of ``mmreg.h``. The standard library's reader is not used
because it refuses extensible headers, which most 24-bit recorders write.
"""

from __future__ import annotations

import struct
import wave
from dataclasses import dataclass
from pathlib import Path

import numpy as np
import soxr
from numpy.typing import NDArray

from assistant.speech.ears import SAMPLE_RATE, Samples
from assistant.speech.errors import AudioError

__all__ = ["MOST_BYTES", "MOST_SECONDS", "Sound", "load", "read", "resample", "seconds", "write"]

MOST_BYTES = 64 * 2**20
"""A larger file is refused: no reply, prompt or note comes near it."""

MOST_SECONDS = 600.0
"""A longer recording is refused."""

_PCM, _FLOAT, _EXTENSIBLE = 0x0001, 0x0003, 0xFFFE
_UNKNOWN_LENGTH = 0x7FFFF000
"""Programs that write to a pipe cannot know the length and state one from here upward."""

_REMEDY = "record it again, or convert it to 16-bit PCM WAV"


@dataclass(frozen=True, slots=True, eq=False)
class Sound:
    """Mono audio at its own rate.

    Args:
        samples: float32 in -1 to 1, shape (n,).
        rate: samples per second [Hz].
    """

    samples: Samples
    rate: int

    @property
    def seconds(self) -> float:
        """Length [s]."""
        return len(self.samples) / self.rate


@dataclass(frozen=True, slots=True)
class _Format:
    """What the ``fmt`` chunk states."""

    code: int
    channels: int
    rate: int
    bits: int

    @property
    def frame(self) -> int:
        """Bytes of one sample of every channel."""
        return self.channels * self.bits // 8


def load(path: Path) -> Sound:
    """Read a WAV file, keeping its rate.

    Args:
        path: PCM of 8, 16, 24 or 32 bits or 32-bit float, any rate, any number of channels
            (they are averaged).

    Raises:
        AudioError: the file cannot be read, is no such WAV, holds no sound, is cut short, or
            exceeds `MOST_BYTES` or `MOST_SECONDS`.
    """
    form, data = _parse(path)
    values = _decode(data[: len(data) // form.frame * form.frame], form)
    mono = values.reshape(-1, form.channels).mean(axis=1, dtype=np.float32)
    if not np.isfinite(mono).all():
        raise AudioError(f"{path}: holds values that are no numbers; {_REMEDY}")
    return Sound(np.clip(mono, -1.0, 1.0), form.rate)


def read(path: Path) -> Samples:
    """Read a WAV file as mono float32 at `SAMPLE_RATE`; raises as `load` does."""
    sound = load(path)
    return resample(sound.samples, sound.rate, SAMPLE_RATE)


def seconds(path: Path) -> float:
    """Length of a WAV file [s]; raises as `load` does."""
    form, data = _parse(path)
    return len(data) // form.frame / form.rate


def write(path: Path, samples: Samples, rate: int = SAMPLE_RATE) -> None:
    """Write mono samples as 16-bit PCM; what exceeds -1 to 1 is clipped.

    Raises:
        AudioError: the file cannot be written.
    """
    whole = np.clip(np.round(samples * 32768.0), -32768, 32767).astype("<i2")
    try:
        with wave.open(str(path), "wb") as file:
            file.setnchannels(1)
            file.setsampwidth(2)
            file.setframerate(rate)
            file.writeframes(whole.tobytes())
    except OSError as error:
        raise AudioError(f"{path}: cannot be written ({error.strerror or error})") from error


def resample(samples: Samples, rate: int, wanted: int) -> Samples:
    """Change the rate [Hz] of mono samples."""
    if rate == wanted:
        return samples
    changed: Samples = soxr.resample(samples, rate, wanted).astype(np.float32)
    return changed


def _parse(path: Path) -> tuple[_Format, bytes]:
    """Take a file apart into its format and its sample data, and check both."""
    chunks = _chunks(path, _contents(path))
    if b"fmt " not in chunks or b"data" not in chunks:
        raise AudioError(f"{path}: not a whole WAV file; {_REMEDY}")
    form, data = _format(path, chunks[b"fmt "]), chunks[b"data"]
    length = len(data) // form.frame / form.rate
    if not length:
        raise AudioError(f"{path}: holds no sound; record it again")
    if length > MOST_SECONDS:
        raise AudioError(f"{path}: {length:.0f} s long, more than {MOST_SECONDS:.0f} s; cut it")
    return form, data


def _contents(path: Path) -> bytes:
    try:
        if path.exists() and not path.is_file():
            raise AudioError(f"{path}: not a file; name a WAV file")
        size = path.stat().st_size
        if size > MOST_BYTES:
            raise AudioError(
                f"{path}: {size / 2**20:.0f} MiB, more than {MOST_BYTES // 2**20} MiB; cut it"
            )
        return path.read_bytes()
    except OSError as error:
        raise AudioError(f"{path}: cannot be read ({error.strerror or error})") from error


def _chunks(path: Path, contents: bytes) -> dict[bytes, bytes]:
    """Find the chunks of a RIFF file; the first of each name counts."""
    if contents[:4] != b"RIFF" or contents[8:12] != b"WAVE":
        raise AudioError(f"{path}: not a WAV file; {_REMEDY}")
    chunks: dict[bytes, bytes] = {}
    at = 12
    while at + 8 <= len(contents):
        name, size = struct.unpack_from("<4sI", contents, at)
        left = len(contents) - at - 8
        if name == b"data" and left < size < _UNKNOWN_LENGTH:
            raise AudioError(
                f"{path}: cut short, {left} of {size} bytes of sound; copy or record it again"
            )
        chunks.setdefault(name, contents[at + 8 : at + 8 + size])
        at += 8 + size + size % 2
    return chunks


def _format(path: Path, chunk: bytes) -> _Format:
    if len(chunk) < 16:
        raise AudioError(f"{path}: its header is broken; {_REMEDY}")
    code, channels, rate, _, _, bits = struct.unpack_from("<HHIIHH", chunk)
    if code == _EXTENSIBLE and len(chunk) >= 26:
        (code,) = struct.unpack_from("<H", chunk, 24)
    kinds = {(_PCM, 8), (_PCM, 16), (_PCM, 24), (_PCM, 32), (_FLOAT, 32)}
    if (code, bits) not in kinds:
        raise AudioError(f"{path}: coding {code} with {bits} bits is not PCM; {_REMEDY}")
    if not 1 <= channels <= 32 or not 4_000 <= rate <= 384_000:
        raise AudioError(f"{path}: {channels} channels at {rate} Hz cannot be used; {_REMEDY}")
    return _Format(code, channels, rate, bits)


def _decode(data: bytes, form: _Format) -> NDArray[np.float32]:
    """Turn interleaved sample bytes into floats, full scale at 1."""
    match form.code, form.bits:
        case 3, _:
            return np.frombuffer(data, "<f4")
        case _, 8:
            return (np.frombuffer(data, "u1").astype(np.float32) - 128) / np.float32(128)
        case _, 16:
            return np.frombuffer(data, "<i2").astype(np.float32) / np.float32(32768)
        case _, 24:
            padded = np.zeros((len(data) // 3, 4), np.uint8)
            padded[:, 1:] = np.frombuffer(data, np.uint8).reshape(-1, 3)
            return (padded.view("<i4")[:, 0] / 2.0**31).astype(np.float32)
        case _:
            return (np.frombuffer(data, "<i4") / 2.0**31).astype(np.float32)
