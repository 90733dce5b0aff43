"""``gloveside draw``: the state diagram of a procedure, and the sheet to do it from paper."""

from __future__ import annotations

import argparse
import enum
import sys
from collections.abc import Callable, Mapping
from pathlib import Path

from assistant.cli.complaint import Complaint, Exit
from assistant.cli.files import put
from assistant.drawing import (
    Chart,
    NoSuchPart,
    main_file,
    one_part,
    to_dot,
    to_mermaid,
    to_svg,
    whole,
)
from assistant.procedure.load import load_program
from assistant.procedure.program import Program

__all__ = ["Format", "arguments", "run"]


class Format(enum.StrEnum):
    """What a diagram is written as."""

    SVG = "svg"
    MERMAID = "mermaid"
    DOT = "dot"


_WRITERS: Mapping[Format, Callable[[Chart], str]] = {
    Format.SVG: to_svg,
    Format.MERMAID: to_mermaid,
    Format.DOT: to_dot,
}


def arguments(parser: argparse.ArgumentParser) -> None:
    """Declare the arguments of the verb."""
    parser.add_argument("procedure", type=Path, metavar="PROCEDURE", help="the YAML file")
    shown = parser.add_mutually_exclusive_group()
    shown.add_argument(
        "--part", metavar="NAME", help="draw this part: its name, or that of a step that calls it"
    )
    shown.add_argument(
        "--whole", action="store_true", help="open every part; without it a call is one box"
    )
    parser.add_argument(
        "--format",
        choices=[str(form) for form in Format],
        default=str(Format.SVG),
        help="svg on A4 pages, or the source for Mermaid or Graphviz (default: svg)",
    )
    parser.add_argument(
        "--output", type=Path, metavar="FILE", help="where to write (default: standard output)"
    )


def run(args: argparse.Namespace) -> Exit:
    """Write the diagram."""
    _write(_WRITERS[Format(args.format)](_chart(args, load_program(args.procedure))), args.output)
    return Exit.DONE


def _chart(args: argparse.Namespace, program: Program) -> Chart:
    if args.whole:
        return whole(program)
    if args.part is None:
        return main_file(program)
    try:
        return one_part(program, args.part)
    except NoSuchPart as error:
        raise Complaint(f"--part: {error}") from None


def _write(text: str, target: Path | None) -> None:
    if target is None:
        # The documents say that they are UTF-8, whatever the terminal is.
        sys.stdout.buffer.write(text.encode("utf-8"))
        return
    try:
        put(target, text.encode("utf-8"))
    except OSError as error:
        raise Complaint(
            f"{target} cannot be written: {error.strerror}; name another place with --output"
        ) from error
    print(target)
