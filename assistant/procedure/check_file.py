"""Check a file for what it says that it is: a procedure, a part or a unit sheet."""

from __future__ import annotations

from pathlib import Path
from types import MappingProxyType

from assistant.procedure.fields import Fields
from assistant.procedure.gather import gather, texts_in
from assistant.procedure.load import build_program, load_program
from assistant.procedure.located import read_yaml
from assistant.procedure.model import Action, Call, End, Procedure, Reference, Step, Target
from assistant.procedure.problems import FileRefused, Place, refuse
from assistant.procedure.text_file import read_text
from assistant.procedure.unit_sheet import load_unit
from assistant.procedure.values import Kind

__all__ = ["check_file"]

_NO_FILE = ""
"""File of a procedure that was never written; no file can have this name."""


def check_file(path: Path) -> None:
    """Check a file as far as it can be checked alone.

    A part is checked as if a procedure called it, with rotors and values under the names of its
    inputs, and then ended.

    Raises:
        FileRefused: with every problem found, in whichever file it stands.
    """
    fields = Fields(read_yaml(read_text(path), str(path)), "the file")
    heads = [name for name in fields.names() if name in ("procedure", "part", "unit")]
    match heads:
        case ["unit"]:
            load_unit(path)
        case ["part"]:
            _check_part(path)
        case ["procedure"]:
            load_program(path)
        case _:
            refuse(
                fields.place, "begin with one of 'procedure:', 'part:' and 'unit:'", "missing-field"
            )


def _check_part(path: Path) -> None:
    gathered = gather(path.name, texts_in(path.parent), str(path.parent))
    part = gathered.main
    try:
        build_program(_caller_of(part), {**gathered.parts(), (_NO_FILE, part.name): part})
    except FileRefused as refused:
        # What keeps the unwritten caller from its end is told of the part's own steps as well.
        told = [problem for problem in refused.problems if problem.place.file != _NO_FILE]
        raise FileRefused(told) from refused


def _caller_of(part: Procedure) -> Procedure:
    """A procedure that does nothing but call a part."""
    place = Place(_NO_FILE, 1, 1)
    arguments = tuple((name, Reference((name,), place)) for name in part.inputs)
    return Procedure(
        name=part.name,
        title=part.title,
        revision=part.revision,
        about=part.about,
        inputs=MappingProxyType({}),
        returns=(),
        papers=MappingProxyType({n: k for n, k in part.inputs.items() if k is not Kind.ROTOR}),
        parts=MappingProxyType({part.name: Target(part.place.file, place)}),
        steps=(
            _step("call", place, Call(part.name, arguments, place), part.returns),
            _step("end", place, End(), ()),
        ),
        place=place,
        is_part=False,
    )


def _step(name: str, place: Place, action: Action, outcomes: tuple[str, ...]) -> Step:
    return Step(
        name=name,
        place=place,
        notices=(),
        say=None,
        acts=(),
        action=action,
        records=(),
        go=MappingProxyType({outcome: Target("end", place) for outcome in outcomes}),
    )
