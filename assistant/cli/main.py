"""The command ``gloveside``: one verb a module, errors in the user's words."""

from __future__ import annotations

import argparse
import io
import sys
from collections.abc import Sequence
from importlib import import_module
from typing import Protocol, cast

from assistant import __version__
from assistant.cli.complaint import Complaint, Exit
from assistant.cli.files import complaint_about
from assistant.cli.keyboard import ready_keyboard
from assistant.cli.unread import drop_unread
from assistant.journal.store import JournalError
from assistant.procedure.problems import FileRefused
from assistant.speech.errors import SpeechError

__all__ = ["main"]

VERBS = {
    "demo": "play the whole job on a simulated actuator, through the real recogniser",
    "run": "do a job, or continue one",
    "kit": "check microphone, loudspeaker, recogniser, disk and clock before a job",
    "advise": "tell which way to turn a shaft",
    "hear": "tell what the recogniser makes of recordings",
    "rehearse": "play a procedure on a simulated actuator, as its writer",
    "lint": "check procedures and unit sheets",
    "draw": "draw a procedure, or print it as a sheet to work from without the program",
    "new": "write a commented skeleton of a procedure or a part",
    "unit": "make a unit sheet question by question, or draw its contact development",
    "schema": "write the JSON Schemas with which an editor completes and checks procedures",
    "verify": "check the journal of a job",
    "review": "the second checker hears a job, or compares an independent check with it",
    "record": "make the record of a job",
    "sign": "sign the journal of a job with a person's key",
    "model": "list, fetch and check the recognisers' models",
}
"""The verbs and what each does; the module of a verb is only imported when it is used."""


class Verb(Protocol):
    """What a verb's module offers."""

    def arguments(self, parser: argparse.ArgumentParser) -> None:
        """Declare the verb's arguments."""

    def run(self, args: argparse.Namespace) -> Exit:
        """Do the verb's work."""


def main(argv: Sequence[str] | None = None) -> int:
    """Run a command line; answers the exit code.

    0 done, 1 found problems, 2 bad use, 3 held (the job stopped safely and can be continued; so is
    whatever was broken off because nobody read any more what it printed).
    """
    ready_keyboard()
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            # A terminal that has no curly quotes is no reason to stop.
            stream.reconfigure(errors="replace")
    words = list(sys.argv[1:] if argv is None else argv)
    parser, verb = _parser(words)
    args = parser.parse_args(words)
    if verb is None:
        parser.print_help()
        return Exit.BAD_USE
    try:
        code = verb.run(args)
        drop_unread()  # else Python would fail over it in the end, after all was done
        return code
    except Complaint as complaint:
        print(f"gloveside: {complaint}", file=sys.stderr)
        return complaint.code
    except FileRefused as refused:
        print(f"gloveside: {complaint_about(refused)}", file=sys.stderr)
        return Exit.BAD_USE
    except (JournalError, SpeechError) as error:
        print(f"gloveside: {error}", file=sys.stderr)
        return Exit.PROBLEMS
    except KeyboardInterrupt:
        print("gloveside: stopped", file=sys.stderr)
        return Exit.HELD
    except BrokenPipeError:
        # Whoever read the output has enough: that is quiet, but the work was not done.
        drop_unread()
        return Exit.HELD


def _parser(words: Sequence[str]) -> tuple[argparse.ArgumentParser, Verb | None]:
    """The parser, with the arguments of the one verb that was named."""
    parser = argparse.ArgumentParser(
        prog="gloveside",
        description="A voice-and-checklist assistant for setting geared limit switches.",
        epilog="Exit codes: 0 done, 1 found problems, 2 bad use, 3 held.",
    )
    parser.add_argument("--version", action="version", version=f"gloveside {__version__}")
    verbs = parser.add_subparsers(metavar="VERB", title="verbs")
    chosen: Verb | None = None
    for name, purpose in VERBS.items():
        sub = verbs.add_parser(name, help=purpose, description=f"{purpose.capitalize()}.")
        if name in words:
            module = cast(Verb, import_module(f"assistant.cli.{name}"))
            module.arguments(sub)
            chosen = module if words[0] == name else chosen
    return parser, chosen
