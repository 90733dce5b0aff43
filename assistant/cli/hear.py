"""``gloveside hear``: what the recogniser makes of recordings."""

from __future__ import annotations

import argparse
import contextlib
import json
import sys
from pathlib import Path

from assistant.cli.complaint import Complaint, Exit
from assistant.cli.recognisers import add_recogniser, open_recogniser
from assistant.language.answers import AskContacts, Question, grammar
from assistant.language.english import english
from assistant.language.meaning import to_json
from assistant.language.questions import ALL_CONTACTS
from assistant.language.recognition import Recognition
from assistant.language.speaking import say_meaning
from assistant.procedure.fit import check_fit
from assistant.procedure.load import load_program
from assistant.procedure.model import Ask
from assistant.procedure.program import Program
from assistant.procedure.unit_sheet import load_unit
from assistant.session.names import Names
from assistant.session.questions import question_of
from assistant.speech import wav
from assistant.speech.errors import AudioError
from assistant.trade.unit import Unit, UnitError

__all__ = ["arguments", "run"]


def arguments(parser: argparse.ArgumentParser) -> None:
    """Declare the arguments of the verb."""
    parser.add_argument("clips", type=Path, nargs="+", metavar="CLIP", help="a WAV file")
    parser.add_argument("--procedure", type=Path, metavar="FILE", help="take a step's grammar")
    parser.add_argument("--step", metavar="NAME", help="the step, e.g. open-end/read")
    parser.add_argument("--unit", type=Path, metavar="FILE", help="the unit sheet")
    parser.add_argument("--json", action="store_true", help="one JSON object a line")
    add_recogniser(parser)


def run(args: argparse.Namespace) -> Exit:
    """Recognise each clip; a clip that cannot be read is a problem found."""
    listening_to = grammar(_question(args), english())
    recogniser = open_recogniser(args.recogniser)
    code = Exit.DONE
    for clip in args.clips:
        try:
            heard = recogniser.recognise(wav.read(clip), listening_to)
        except AudioError as error:
            print(f"gloveside: {error}", file=sys.stderr)
            code = Exit.PROBLEMS
            continue
        print(json.dumps(_as_json(clip, heard)) if args.json else _as_text(clip, heard), flush=True)
    return code


def _question(args: argparse.Namespace) -> Question:
    given = [args.procedure, args.step, args.unit]
    if not any(given):
        return AskContacts(ALL_CONTACTS)
    if not (args.procedure and args.step):
        raise Complaint("--procedure and --step go together, with --unit if it needs one")
    unit = load_unit(args.unit) if args.unit else None
    program = load_program(args.procedure)
    check_fit(program, unit)
    asked = _asked(program, unit)
    if args.step not in asked:
        of = f" of {unit.tag}" if unit else ""
        raise Complaint(f"no question{of} at '{args.step}'; the steps that ask: {', '.join(asked)}")
    return asked[args.step]


def _asked(program: Program, unit: Unit | None) -> dict[str, Question]:
    """What the procedure asks about the unit, by step.

    Left out are a rotor that the unit does not have, and what depends on an answer in the job.
    """
    names = Names.at_start(unit, {})
    asked: dict[str, Question] = {}
    for node in program.nodes.values():
        if isinstance(node.step.action, Ask):
            with contextlib.suppress(UnitError, KeyError):
                asked[node.name] = question_of(node, node.step.action, names)
    return asked


def _as_json(clip: Path, heard: Recognition) -> dict[str, object]:
    meaning = heard.accepted()
    return {
        "file": str(clip),
        "text": heard.text,
        "meaning": None if meaning is None else to_json(meaning),
        "confidence": heard.confidence,
        "level": heard.level,
        "seconds": heard.seconds,
        "engine": heard.engine,
    }


def _as_text(clip: Path, heard: Recognition) -> str:
    meaning = heard.accepted()
    understood = "not understood" if meaning is None else say_meaning(meaning)
    return f"{clip}: {understood} ('{heard.text}', confidence {heard.confidence:.2f})"
