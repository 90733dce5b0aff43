"""Lines from a keyboard, or from a pipe in its place, with completion where there is a terminal."""

from __future__ import annotations

import contextlib
import io
import os
import sys
from collections.abc import Callable, Iterable
from pathlib import Path

__all__ = ["read_line", "ready_keyboard"]

PROMPT = "> "


def ready_keyboard() -> None:
    """Have bytes that are no text replaced: a slip of the keyboard is only not understood then.

    A standard input that was closed is one in which nothing comes. To be called before the first
    line is read: later the stream cannot be changed any more.
    """
    if sys.stdin is None:
        sys.stdin = Path(os.devnull).open(encoding="utf-8")  # noqa: SIM115 - open to the end
    if isinstance(sys.stdin, io.TextIOWrapper):
        sys.stdin.reconfigure(errors="replace")


def read_line(words: Callable[[], Iterable[str]]) -> str | None:
    """One line without its end; None where no more come.

    What comes from a pipe is printed, so that the transcript
    can be read.

    Args:
        words: what a line may be completed to.
    """
    if sys.stdin.isatty():
        _complete(words)
        try:
            return input(PROMPT).strip()
        except EOFError:
            print()
            return None
    sys.stdout.flush()  # who is to answer has to see what is asked
    line = sys.stdin.readline()
    if not line:
        return None
    print(f"{PROMPT}{line.strip()}", flush=True)
    return line.strip()


def _complete(words: Callable[[], Iterable[str]]) -> None:
    with contextlib.suppress(ImportError):  # not every Python has it; then nothing is completed
        import readline  # noqa: PLC0415

        def completer(text: str, state: int) -> str | None:
            fitting = [word for word in words() if word.startswith(text)]
            return fitting[state] if state < len(fitting) else None

        readline.set_completer_delims(" ")
        readline.set_completer(completer)
        readline.parse_and_bind("tab: complete")
