"""Read a whole procedure file into its typed model."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from assistant.procedure.fields import Fields, as_items, as_text, nearest, quoted, read_each
from assistant.procedure.located import Located, MappingNode, read_yaml
from assistant.procedure.model import Procedure, Step, Target
from assistant.procedure.problems import FileRefused, Problem, refuse
from assistant.procedure.quantities import read_unit_name
from assistant.procedure.steps import read_step
from assistant.procedure.texts import read_name
from assistant.procedure.values import PAPER_KINDS, Kind

__all__ = ["INPUT_KINDS", "read_procedure"]

INPUT_KINDS = frozenset(Kind) - {Kind.UNIT}
"""The kinds of what a part can be given; the unit is known everywhere."""


def read_procedure(text: str, file: str) -> Procedure:
    """Read a procedure or a part.

    Args:
        text: the file's text.
        file: its name, for messages.

    Raises:
        FileRefused: with the problems that were found, each with its place.
    """
    fields = Fields(read_yaml(text, file), "a procedure")
    head = "part" if "part" in fields.names() else "procedure"
    fields.what = f"a {head}"
    procedure = Procedure(
        name=read_name(fields.need(head), f"'{head}'"),
        title=fields.prose("title"),
        revision=fields.text("revision"),
        about=fields.prose("about"),
        inputs=_inputs(fields) if head == "part" else MappingProxyType({}),
        returns=_returns(fields) if head == "part" else (),
        papers=_papers(fields) if head == "procedure" else MappingProxyType({}),
        paper_units=_paper_units(fields) if head == "procedure" else MappingProxyType({}),
        parts=_parts(fields),
        steps=_steps(fields.need("steps")),
        place=fields.place,
        is_part=head == "part",
        lint=fields.take("lint"),
    )
    fields.finish()
    return procedure


def _inputs(fields: Fields) -> Mapping[str, Kind]:
    inputs: dict[str, Kind] = {}
    for key, item in fields.table("inputs"):
        name = read_name(key, "the name of an input")
        if name == "unit":
            refuse(key.place, "'unit' is taken: choose another name", "name")
        inputs[name] = _kind(item, name, INPUT_KINDS)
    return MappingProxyType(inputs)


def _papers(fields: Fields) -> Mapping[str, Kind]:
    papers: dict[str, Kind] = {}
    for key, item in fields.table("papers"):
        name = read_name(key, "the name of a paper")
        if name == "unit":
            refuse(key.place, "'unit' is taken: choose another name", "name")
        is_number = isinstance(item, MappingNode)
        papers[name] = Kind.NUMBER if is_number else _kind(item, name, PAPER_KINDS)
    return MappingProxyType(papers)


def _paper_units(fields: Fields) -> Mapping[str, str]:
    units: dict[str, str] = {}
    for key, item in fields.table("papers"):
        if isinstance(item, MappingNode):
            number = Fields(item, f"'{key.text}'")
            unit = number.need(Kind.NUMBER)
            number.finish()
            units[key.text] = read_unit_name(unit, f"the unit of '{key.text}'")
    return MappingProxyType(units)


def _returns(fields: Fields) -> tuple[str, ...]:
    value = fields.take("returns")
    if value is None:
        return ()
    names = read_each(as_items(value, "'returns'"), lambda item: read_name(item, "an outcome"))
    if len(names) < 2 or len(set(names)) < len(names) or "next" in names:
        refuse(
            value.place, "'returns' must be two or more different words, none of them 'next'", "go"
        )
    return names


def _kind(value: Located, name: str, allowed: frozenset[Kind]) -> Kind:
    text = as_text(value, f"the kind of '{name}'")
    known = sorted(kind.value for kind in allowed)
    if text not in known:
        refuse(
            value.place, f"'{name}' is of no kind {quoted(text)}; {nearest(text, known)}", "type"
        )
    return Kind(text)


def _parts(fields: Fields) -> Mapping[str, Target]:
    return MappingProxyType(
        {
            read_name(key, "a part's name"): Target(as_text(item, quoted(key.text)), item.place)
            for key, item in fields.table("parts")
        }
    )


def _steps(value: Located) -> tuple[Step, ...]:
    steps = read_each(as_items(value, "'steps'"), read_step)
    if not steps:
        refuse(value.place, "'steps' has no step: write '- step: name'", "missing-field")
    if problems := _named_twice(steps):
        raise FileRefused(problems)
    return steps


def _named_twice(steps: tuple[Step, ...]) -> list[Problem]:
    first: dict[str, Step] = {}
    return [
        Problem(
            step.place,
            f"two steps are called '{step.name}', the first in line "
            f"{first[step.name].place.line}: rename one",
            "duplicate-step",
        )
        for step in steps
        if first.setdefault(step.name, step) is not step
    ]
