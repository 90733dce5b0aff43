"""Output that nobody reads any more: a pipe whose reader has ended, as ``head`` does early.

What is left of it is dropped. Python would try once more to write it when the program ends, and put
an exit code of its own in the place of ours.
"""

from __future__ import annotations

import os
import sys
from pathlib import Path

__all__ = ["drop_unread", "tell"]


def tell(text: str) -> None:
    """Print a line for whoever is at the terminal; that nobody reads it changes nothing else."""
    try:
        print(text, file=sys.stderr, flush=True)
    except BrokenPipeError:
        drop_unread()


def drop_unread() -> None:
    """From now on write to nowhere what is printed where nobody reads it."""
    for stream in (sys.stdout, sys.stderr):
        try:
            stream.flush()
        except BrokenPipeError:
            with Path(os.devnull).open("wb") as nowhere:
                os.dup2(nowhere.fileno(), stream.fileno())
