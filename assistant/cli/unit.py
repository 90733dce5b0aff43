"""``gloveside unit``: make a unit sheet by questions, or draw one."""

from __future__ import annotations

import argparse
from pathlib import Path

from assistant.cli.complaint import Exit
from assistant.cli.files import write_out
from assistant.cli.sheet_interview import make_sheet
from assistant.procedure.unit_sheet import load_unit
from assistant.record.sheet_drawing import draw_sheet

__all__ = ["arguments", "run"]


def arguments(parser: argparse.ArgumentParser) -> None:
    """Declare the arguments of the verb."""
    actions = parser.add_subparsers(dest="action", required=True, metavar="ACTION")
    new = actions.add_parser("new", help="make a unit sheet, question by question")
    new.add_argument(
        "file", type=Path, metavar="FILE", help="the sheet to write, for example kf-15.yaml"
    )
    draw = actions.add_parser("draw", help="draw the contact development of a sheet, in SVG")
    draw.add_argument("file", type=Path, metavar="SHEET", help="the unit sheet")
    draw.add_argument(
        "--output", type=Path, metavar="FILE", help="where to write the drawing (default: print it)"
    )


def run(args: argparse.Namespace) -> Exit:
    """Make or draw a sheet."""
    if args.action == "new":
        return make_sheet(args.file)
    write_out(draw_sheet(load_unit(args.file)), args.output)
    return Exit.DONE
