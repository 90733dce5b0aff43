"""The board beside a job: what the user asked for, and the wiring to it."""

from __future__ import annotations

import argparse
import contextlib
import sys
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from assistant.cli.complaint import Complaint
from assistant.cli.conduct import Watcher
from assistant.cli.job_folder import Job
from assistant.journal.replay import Happened
from assistant.journal.root_words import words_of
from assistant.journal.store import Journal
from assistant.language.answers import hold_only
from assistant.language.english import english
from assistant.session.effects import Effect, Finished
from assistant.session.events import Event
from assistant.speech.pressed import Presses

if TYPE_CHECKING:
    from assistant.board.view import View

__all__ = ["BoardLink", "add_board", "add_board_at", "check_board", "open_board"]


@dataclass(frozen=True, slots=True)
class BoardLink:
    """A job's side of its board.

    Args:
        watchers: what tells the board of the job; none where there is no board.
        presses: where pressed answers come from; None where none can be pressed.
        show_failure: shows that the job stands still, and why.
        show_stopped: shows that the job has stopped: what is to be done now, and why.
    """

    watchers: tuple[Watcher, ...] = ()
    presses: Presses | None = None
    show_failure: Callable[[str], None] = lambda _failure: None
    show_stopped: Callable[[Sequence[str], str], None] = lambda _words, _failure: None


def add_board(parser: argparse.ArgumentParser) -> None:
    """Let the user have a board on this machine."""
    parser.add_argument(
        "--board", action="store_true", help="also show the job on a page, on this machine alone"
    )


def add_board_at(parser: argparse.ArgumentParser) -> None:
    """Let the user have answers pressed, and other devices see the board."""
    parser.add_argument(
        "--board-keys",
        action="store_true",
        help="short answers and hold can also be pressed on the board (not with --ears FOLDER)",
    )
    parser.add_argument(
        "--board-at",
        metavar="ADDRESS[:PORT]",
        help="show the board on this address of this machine, to the site's own network",
    )
    parser.add_argument(
        "--board-tls",
        nargs=2,
        type=Path,
        metavar=("CERT", "KEY"),
        help="certificate and key, PEM, for --board-at",
    )


def check_board(args: argparse.Namespace) -> None:
    """Refuse arguments that do not go together, before a job is begun.

    Raises:
        Complaint: they do not.
    """
    wanted = args.board or args.board_at
    if args.board_keys and not wanted:
        raise Complaint("--board-keys is for a board: give --board or --board-at as well")
    if args.board_keys and args.ears not in ("mic", "typed"):
        raise Complaint(
            "--board-keys goes with --ears mic or --ears typed: recordings are heard one after "
            "the other"
        )
    if args.board_at and not args.board_tls:
        raise Complaint(
            "--board-at needs --board-tls CERT KEY: what is heard and pressed must not be read or "
            "changed on the way"
        )
    if args.board_tls and not args.board_at:
        raise Complaint("--board-tls is for --board-at: name the address of this machine")


@contextlib.contextmanager
def open_board(
    args: argparse.Namespace, job: Job, journal: Journal, happened: Sequence[Happened]
) -> Iterator[BoardLink]:
    """The link to a job's board, while it is open; an empty one where none was asked for.

    Args:
        args: what the user asked for.
        job: whose board it is.
        journal: of the job.
        happened: in the job before it was interrupted; nothing in a new one.

    Raises:
        Complaint: it cannot be shown where it was asked for.
    """
    at, files = getattr(args, "board_at", None), getattr(args, "board_tls", None)
    if not (args.board or at):
        yield BoardLink()
        return
    presses = Presses(hold_only(english())) if getattr(args, "board_keys", False) else None
    # Web server and page are only loaded where somebody wants them.
    from assistant.board.board import Board  # noqa: PLC0415
    from assistant.board.server import LOOPBACK, BoardError, Tls  # noqa: PLC0415

    host, port = _host_and_port(at) if at else (LOOPBACK, 0)
    tls = Tls(*files) if files else None
    try:
        board = Board(_view_so_far(job, happened), host, port, tls, presses)
        board.open()
    except BoardError as error:
        raise Complaint(str(error)) from error
    with contextlib.closing(board):
        whom = "The site's network can see the board" if at else "Board, on this machine alone"
        print(f"{whom}: {board.address}", file=sys.stderr)

        def watch(event: Event, effects: tuple[Effect, ...]) -> None:
            board.show(event, effects)
            if any(isinstance(effect, Finished) for effect in effects):
                board.show_words(words_of(journal.root))

        yield BoardLink((watch,), presses, board.show_failure, board.show_stopped)


def _view_so_far(job: Job, happened: Sequence[Happened]) -> View:
    """What the board of a job showed when it was interrupted; of a new one, its title."""
    from assistant.board.follow import follow, paused  # noqa: PLC0415
    from assistant.board.view import first_view  # noqa: PLC0415

    view = first_view(job.program, job.unit)
    try:
        for event, effects in happened:
            view = follow(view, event, effects)
    except Exception as error:  # the job must go on, whatever is wrong here
        print(f"gloveside: the board begins anew: {error!r}", file=sys.stderr)
        return first_view(job.program, job.unit)
    return paused(view) if happened else view


def _host_and_port(address: str) -> tuple[str, int]:
    """An address with or without a port: ``192.0.2.7:8443``, ``[2001:db8::7]:8443``."""
    host, colon, port = address.rpartition(":")
    if not colon or "]" in port or (":" in host and not host.endswith("]")):
        host, port = address, "0"
    if not (port.isascii() and port.isdigit() and int(port) < 65_536):
        raise Complaint(f"--board-at {address}: '{port}' is no port; give a number up to 65535")
    return host.strip("[]"), int(port)
