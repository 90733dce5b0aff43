"""Check a file for what it says that it is: a procedure, a part or a unit sheet."""

from __future__ import annotations

import enum
from pathlib import Path
from types import MappingProxyType

from assistant.procedure.fields import Fields
from assistant.procedure.gather import Gathered, gather, texts_in
from assistant.procedure.load import build_program
from assistant.procedure.located import read_yaml
from assistant.procedure.model import Action, Call, End, Procedure, Reference, Step, Target
from assistant.procedure.problems import NO_FILE, FileRefused, Place, refuse
from assistant.procedure.program import Program
from assistant.procedure.text_file import read_text
from assistant.procedure.unit_sheet import load_unit
from assistant.procedure.values import Kind

__all__ = ["Head", "check_file", "head_of", "whole"]


class Head(enum.StrEnum):
    """What a file says that it is, by the word with which it begins."""

    PROCEDURE = "procedure"
    PART = "part"
    UNIT = "unit"


def head_of(path: Path) -> Head:
    """What a file says that it is; FileRefused if nothing, or two things."""
    fields = Fields(read_yaml(read_text(path), str(path)), "the file")
    heads = [head for head in Head if head in fields.names()]
    if len(heads) != 1:
        refuse(fields.place, "begin with one of 'procedure:', 'part:' and 'unit:'", "missing-field")
    return heads[0]


def check_file(path: Path) -> None:
    """Check a file as far as it can be checked alone.

    Raises:
        FileRefused: with every problem found, in whichever file it stands.
    """
    if head_of(path) is Head.UNIT:
        load_unit(path)
    else:
        whole(gather(path.name, texts_in(path.parent), str(path.parent)))


def whole(gathered: Gathered) -> Program:
    """The checked program of a procedure, or of a part as far as it can be checked alone.

    A part is checked as if a procedure called it, with rotors and values under the names of its
    inputs, and then ended.

    Raises:
        FileRefused: with every problem found, in whichever file it stands.
    """
    main = gathered.main
    if not main.is_part:
        return build_program(main, gathered.parts())
    try:
        return build_program(_caller_of(main), {**gathered.parts(), (NO_FILE, main.name): main})
    except FileRefused as refused:
        # What keeps the unwritten caller from its end is told of the part's own steps as well.
        told = [problem for problem in refused.problems if problem.place.file != NO_FILE]
        raise FileRefused(told) from refused


def _caller_of(part: Procedure) -> Procedure:
    """A procedure that does nothing but call a part."""
    place = Place(NO_FILE, 1, 1)
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
