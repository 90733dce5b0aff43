"""``gloveside rehearse``: the procedure's writer plays the technician on a simulated actuator.

Nothing is kept: there is no job folder, no clip and no record.
"""

from __future__ import annotations

import argparse
from datetime import timedelta
from pathlib import Path

from assistant.cli.all_paths import walk_all_paths
from assistant.cli.complaint import Complaint, Exit
from assistant.cli.papers import add_papers, given_papers
from assistant.cli.recognisers import add_recogniser
from assistant.cli.rehearsing import Rehearsing
from assistant.cli.voices import add_voice
from assistant.procedure.fields import nearest
from assistant.procedure.fit import check_fit
from assistant.procedure.load import load_program
from assistant.procedure.papers import PapersError, missing_papers, read_papers
from assistant.procedure.program import Program
from assistant.procedure.unit_sheet import load_unit
from assistant.procedure.values import Kind
from assistant.rehearsal.bench import Bench
from assistant.rig.as_found import Found, Setting, found_wrong
from assistant.rig.soundless_job import BEGUN
from assistant.trade.motion import Rotation
from assistant.trade.unit import Unit

__all__ = ["arguments", "run"]

CALIBRATED_FOR = timedelta(days=90)


def arguments(parser: argparse.ArgumentParser) -> None:
    """Declare the arguments of the verb."""
    parser.add_argument("procedure", type=Path, metavar="PROCEDURE", help="the procedure's file")
    parser.add_argument(
        "--unit", type=Path, metavar="FILE", help="the unit sheet, if the procedure needs one"
    )
    add_papers(parser)
    parser.add_argument(
        "--rotor",
        action="append",
        default=[],
        metavar="NAME=SETTING[,ROTATION]",
        help=(
            f"how a rotor is found: {', '.join(Setting)}; and how its shaft turns while the valve "
            f"opens: {', '.join(Rotation)} (default: every rotor wrong)"
        ),
    )
    parser.add_argument(
        "--ears",
        default="typed",
        metavar="typed|mic|FOLDER",
        help="keyboard lines, microphone, or a folder of WAV files in order (default: typed)",
    )
    add_voice(parser, "on")
    add_recogniser(parser)
    parser.add_argument(
        "--all-paths",
        action="store_true",
        help="play every way through it, unattended, and report; nothing is played aloud, but the "
        "spoken minutes are measured on rendered speech unless the voice is off",
    )
    parser.add_argument("--json", action="store_true", help="the report as one JSON object")


def run(args: argparse.Namespace) -> Exit:
    """Rehearse it, or report on every way through it."""
    if args.json and not args.all_paths:
        raise Complaint("--json is for the report: add --all-paths, or leave it out")
    if args.all_paths:
        return walk_all_paths(_bench(args), args.voice, as_json=args.json)
    return Rehearsing(args, lambda: _bench(args)).run()


def _bench(args: argparse.Namespace) -> Bench:
    """Load what is rehearsed.

    Raises:
        FileRefused: a file cannot be used, or they do not go together.
        Complaint: the papers or the rotors are not those that are wanted.
    """
    program = load_program(args.procedure)
    unit = None if args.unit is None else load_unit(args.unit)
    check_fit(program, unit)
    given = given_papers(args.paper)
    invented = _invented(program, missing_papers(program, given))
    try:
        papers = read_papers(program, {**given, **invented})
    except PapersError as error:
        raise Complaint(f"{args.procedure}: {error}") from error
    return Bench(program, unit, papers, {} if unit is None else _found(args.rotor, unit))


def _invented(program: Program, names: tuple[str, ...]) -> dict[str, str]:
    """Papers that nobody has to type for a rehearsal, each different from the others."""
    due = (BEGUN.date() + CALIBRATED_FOR).isoformat()
    kinds = program.procedure.papers
    return {
        name: {Kind.DATE: due, Kind.NUMBER: f"{10 * number}"}.get(
            kinds[name], f"{name[0].upper()}{number}"
        )
        for number, name in enumerate(names, 1)
    }


def _found(given: list[str], unit: Unit) -> dict[str, Found]:
    found = found_wrong(unit)
    for one in given:
        name, _, how = one.partition("=")
        setting, _, rotation = how.partition(",")
        if name not in found:
            raise Complaint(f"--rotor {one}: no rotor is called so; {nearest(name, found)}")
        if setting not in set(Setting):
            raise Complaint(
                f"--rotor {one}: write it NAME=SETTING with one of {', '.join(Setting)}"
            )
        if rotation and rotation not in set(Rotation):
            raise Complaint(f"--rotor {one}: a shaft turns {' or '.join(Rotation)}")
        way = Rotation(rotation) if rotation else found[name].rotation
        found[name] = Found(Setting(setting), way)
    return found
