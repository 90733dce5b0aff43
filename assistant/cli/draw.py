"""``gloveside draw``: the state diagram of a procedure, and the sheet to do it from paper."""

from __future__ import annotations

import argparse
import enum
from collections.abc import Callable, Mapping
from pathlib import Path

from assistant.cli.complaint import Complaint, Exit
from assistant.cli.files import write_out
from assistant.drawing import (
    Chart,
    NoSuchPart,
    main_file,
    one_part,
    part_file,
    to_dot,
    to_mermaid,
    to_svg,
    whole,
)
from assistant.procedure.check_file import whole as checked
from assistant.procedure.fit import check_fit
from assistant.procedure.gather import gather, texts_in
from assistant.procedure.load import load_program
from assistant.procedure.program import Program
from assistant.procedure.unit_sheet import load_unit
from assistant.sheet import lay_out, render

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
    parser.add_argument(
        "procedure", type=Path, metavar="PROCEDURE", help="the YAML file; a part can be drawn too"
    )
    shown = parser.add_mutually_exclusive_group()
    shown.add_argument(
        "--part", metavar="NAME", help="draw this part: its name, or that of a step that calls it"
    )
    shown.add_argument(
        "--whole", action="store_true", help="open every part; without it a call is one box"
    )
    shown.add_argument(
        "--sheet",
        action="store_true",
        help="write a page to print and work from, for the day the program is not there",
    )
    parser.add_argument(
        "--unit", type=Path, metavar="FILE", help="with --sheet: fill in what this unit sheet tells"
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
    """Write the diagram, or the sheet."""
    if args.sheet:
        write_out(_sheet(load_program(args.procedure), args.unit), args.output)
        return Exit.DONE
    if args.unit is not None:
        raise Complaint("--unit goes with --sheet: a diagram is the same for every unit")
    write_out(_WRITERS[Format(args.format)](_chart(args)), args.output)
    return Exit.DONE


def _sheet(program: Program, path: Path | None) -> str:
    unit = None if path is None else load_unit(path)
    if unit is not None:
        check_fit(program, unit)
    return render(lay_out(program, unit))


def _chart(args: argparse.Namespace) -> Chart:
    path: Path = args.procedure
    gathered = gather(path.name, texts_in(path.parent), str(path.parent))
    program = checked(gathered)
    if gathered.main.is_part and not args.whole and args.part is None:
        return part_file(program)
    if args.whole:
        return whole(program)
    if args.part is None:
        return main_file(program)
    try:
        return one_part(program, args.part)
    except NoSuchPart as error:
        raise Complaint(f"--part: {error}") from None
