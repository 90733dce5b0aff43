"""The JSON Schemas agree with the loader, in both directions.

What a schema says and what the loader says are two writings of this project; the test is that they
are one. The dialect is JSON Schema 2020-12, held by the library `jsonschema`.
"""

from __future__ import annotations

import copy
import functools
import json
import random
import re
import shutil
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from jsonschema import Draft202012Validator

from assistant.procedure.check_file import check_file
from assistant.procedure.fields import Fields
from assistant.procedure.problems import FileRefused, Problem
from assistant.procedure.read_file import read_procedure
from assistant.procedure.schema import SCHEMA_FILES, schema_text
from assistant.procedure.schema.step_schema import step_schema
from assistant.procedure.unit_sheet import read_unit
from tests.procedure.editor_yaml import by_yaml_1_1, by_yaml_1_2
from tests.procedure.refusals import HEAD
from tests.procedure.shipped import PROCEDURES, SHIPPED

Instance = dict[str, Any]
READINGS = [by_yaml_1_2, by_yaml_1_1]


@functools.cache
def validator(name: str) -> Draft202012Validator:
    return Draft202012Validator(SCHEMA_FILES[name]())


def schema_of(file: Path) -> str:
    return "unit.schema.json" if file.parent.name == "units" else "procedure.schema.json"


def short(file: Path) -> str:
    return str(file.relative_to(PROCEDURES))


@pytest.mark.parametrize("name", SCHEMA_FILES)
def test_the_schemas_are_schemas_and_shipped_as_they_are_made(name: str) -> None:
    Draft202012Validator.check_schema(SCHEMA_FILES[name]())
    assert (PROCEDURES / name).read_text(encoding="utf-8") == schema_text(name), (
        "write them anew with 'gloveside schema procedures'"
    )


@pytest.mark.parametrize("read", READINGS)
@pytest.mark.parametrize("file", SHIPPED, ids=short)
def test_every_shipped_file_keeps_to_the_schema_that_it_names(
    file: Path, read: Callable[[str], Any]
) -> None:
    text = file.read_text(encoding="utf-8")
    named = re.match(r"# yaml-language-server: \$schema=(\S+)\n", text)
    assert named is not None
    assert (file.parent / named[1]).resolve() == PROCEDURES / schema_of(file)
    assert [error.message for error in validator(schema_of(file)).iter_errors(read(text))] == []


# Where a field is known


def test_the_schema_has_the_fields_that_the_reader_asks_for(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    asked: set[str] = set()
    take = Fields.take

    def noting(fields: Fields, name: str) -> object:
        asked.add(name)
        return take(fields, name)

    monkeypatch.setattr(Fields, "take", noting)
    for file in SHIPPED:
        if file.parent.name != "units":
            read_procedure(file.read_text(encoding="utf-8"), file.name)
    step = set(step_schema()["properties"])
    head = set(SCHEMA_FILES["procedure.schema.json"]()["properties"])
    inner = {"turns", "toward", "value", "origin"}
    assert asked - inner <= step | head
    never_shipped = {"returns", "procedure", "part", "deviation", "tick", "gate", "expect"}
    assert (step | head) - asked - never_shipped == set()


# Mutations of one field

ODD: tuple[Any, ...] = (
    *("zzz", "UPPER case", "", "  ", "{unit.tag", "{unit.tag}", "a.b", "next", "return", "none"),
    *("yes", "no", 0, -1, 7, 1.5, 250, "1.5", "x" * 50, True, False, None),
    *([], ["a"], [["a"]], ["a", "a"], ["zz", "aa", "bb"], {}, {"zzz": "a"}, {"a": {"b": "c"}}),
    *({"next": "x"}, {"yes": "a", "no": "b"}, [1, 2], [[0, 2.5]], [[2.5, 100], [0, 1]]),
)


def mutations(instance: Any) -> Iterator[Any]:
    """The instance with one thing changed, every way."""
    for path in paths(instance):
        *above, last = path
        for change in changes(value_at(instance, path), last):
            mutant = copy.deepcopy(instance)
            change(value_at(mutant, above), last)
            yield mutant


def paths(value: Any, before: tuple[Any, ...] = ()) -> Iterator[tuple[Any, ...]]:
    if isinstance(value, dict | list):
        for key in value if isinstance(value, dict) else range(len(value)):
            yield (*before, key)
            yield from paths(value[key], (*before, key))


def value_at(value: Any, path: Any) -> Any:
    return functools.reduce(lambda inner, key: inner[key], path, value)


def changes(value: Any, key: Any) -> Iterator[Callable[[Any, Any], None]]:
    def put(new: Any) -> Callable[[Any, Any], None]:
        return lambda inner, last: inner.__setitem__(last, copy.deepcopy(new))

    def renamed(new: str) -> Callable[[Any, Any], None]:
        return lambda inner, last: inner.setdefault(new, inner.pop(last))

    def doubled(new: str) -> Callable[[Any, Any], None]:
        return lambda inner, last: inner.setdefault(new, copy.deepcopy(inner[last]))

    yield lambda inner, last: inner.__delitem__(last)
    if isinstance(key, str):
        for new in (
            f"{key}z",
            "zzz",
            "unit",
            "go",
            "into",
            "of",
            "tick",
            "may-skip",
            "work",
            "read-back",
        ):
            yield renamed(new)
            yield doubled(new)
    yield put([value])
    for odd in ODD:
        yield put(odd)


def problems(read: Callable[[str, str], object], instance: Any) -> tuple[Problem, ...]:
    try:
        read(json.dumps(instance), "f.yaml")
    except FileRefused as refused:
        return refused.problems
    return ()


LOADER_ALONE = re.compile(
    "'least' must be below|sounds like|no words for|the command|two steps are called"
    "|'at-most' must be a whole number|write '(may-skip|work|gate): yes'"
)
"""What takes the phrase book or two values together, a whole number in quotes, and true for yes."""


def told_by_the_loader_alone(problem: Problem) -> bool:
    return problem.rule == "unit" or bool(LOADER_ALONE.search(problem.message))


def disagreement(name: str, read: Callable[[str, str], object], instance: Any) -> str:
    """What one of the two refuses in an instance and the other does not; empty where they agree."""
    refused = problems(read, instance)
    fits = validator(name).is_valid(instance)
    if fits and any(not told_by_the_loader_alone(problem) for problem in refused):
        return f"the loader alone refuses {instance}: {refused}"
    return "" if fits or refused else f"the schema alone refuses {instance}"


Form = tuple[Path, int]
"""A file and the index of a step in it."""


@functools.cache
def forms() -> tuple[Form, ...]:
    """A step of every form that is shipped."""
    found: dict[object, Form] = {}
    for file in SHIPPED:
        for index, step in enumerate(instance_of(file).get("steps", ())):
            form = (step.get("ask"), step.get("compute"), *sorted(step))
            found.setdefault(form, (file, index))
    return tuple(found.values())


@functools.cache
def instance_of(file: Path) -> Instance:
    return dict(by_yaml_1_2(file.read_text(encoding="utf-8")))


def framed(form: Form) -> Instance:
    """The step in a procedure of its own, in which its targets do not exist."""
    file, index = form
    return {**by_yaml_1_2(HEAD), "steps": [instance_of(file)["steps"][index]]}


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    copied = tmp_path_factory.mktemp("shipped") / "procedures"
    shutil.copytree(PROCEDURES, copied)
    return copied


def is_refused_in_its_file(form: Form, mutant: Any, folder: Path) -> bool:
    """Whether the file of a step is refused with the mutant of the step in its place."""
    file, index = form
    spoiled = {**instance_of(file), "steps": list(instance_of(file)["steps"])}
    spoiled["steps"][index : index + 1] = mutant["steps"]
    place = folder / file.relative_to(PROCEDURES)
    place.write_text(json.dumps(spoiled), encoding="utf-8")
    try:
        check_file(place)
    except FileRefused:
        return True
    finally:
        shutil.copyfile(file, place)
    return False


def assert_agreed(form: Form, mutant: Any, folder: Path) -> None:
    told = disagreement("procedure.schema.json", read_procedure, mutant)
    if told.startswith("the schema alone"):
        # An outcome that a step cannot have is refused when the files are joined.
        assert is_refused_in_its_file(form, mutant, folder), told
    else:
        assert told == ""


def test_the_steps_whose_mutants_are_tried_are_right(folder: Path) -> None:
    assert len(forms()) > 60
    for form in forms():
        assert_agreed(form, framed(form), folder)
        assert problems(read_procedure, framed(form)) == ()


ONE_IN = 20
"""Of all mutants, so that the test takes some seconds; all of them were tried by hand."""


def test_steps_with_one_field_spoiled(folder: Path) -> None:
    dice = random.Random(7)
    tried = 0
    for form in forms():
        for mutant in mutations(framed(form)["steps"]):
            if dice.randrange(ONE_IN) == 0:
                tried += 1
                assert_agreed(form, {**framed(form), "steps": mutant}, folder)
    assert tried > 2000


def test_heads_with_one_field_spoiled() -> None:
    step = {"step": "a", "say": "A."}
    part = {**by_yaml_1_2(HEAD), "part": "p", "inputs": {"rotor": "rotor", "count": "number"}}
    del part["procedure"]
    dice = random.Random(7)
    heads: tuple[Instance, ...] = (
        {**by_yaml_1_2(HEAD), "papers": {"due": "date"}, "parts": {"p": "p.yaml"}},
        {**part, "returns": ["few", "many"]},
    )
    for head in heads:
        for mutant in mutations({**head, "steps": [step]}):
            if dice.randrange(3) == 0:
                assert disagreement("procedure.schema.json", read_procedure, mutant) == ""


@pytest.mark.parametrize("file", [f for f in SHIPPED if f.parent.name == "units"], ids=short)
def test_unit_sheets_with_one_field_spoiled(file: Path) -> None:
    dice = random.Random(7)
    for mutant in mutations(instance_of(file)):
        if dice.randrange(ONE_IN) == 0:
            assert disagreement("unit.schema.json", read_unit, mutant) == ""


@given(st.data())
@settings(max_examples=150, derandomize=True, deadline=None)
def test_steps_with_several_fields_spoiled(data: st.DataObject) -> None:
    form = data.draw(st.sampled_from(forms()))
    mutant: Any = framed(form)["steps"]
    for _ in range(data.draw(st.integers(2, 4))):
        if not (at := list(paths(mutant))):
            break
        *above, last = data.draw(st.sampled_from(at))
        found = list(changes(value_at(mutant, (*above, last)), last))
        mutant = copy.deepcopy(mutant)
        data.draw(st.sampled_from(found))(value_at(mutant, above), last)
    told = disagreement("procedure.schema.json", read_procedure, {**framed(form), "steps": mutant})
    assert not told.startswith("the loader alone")


@pytest.mark.parametrize("nothing", ["", "~", "null"])
def test_what_an_editor_reads_as_nothing_is_nothing(nothing: str) -> None:
    text = f"{HEAD}steps:\n  - step: a\n    say: {nothing}\n"
    assert not validator("procedure.schema.json").is_valid(by_yaml_1_2(text))
    with pytest.raises(FileRefused):
        read_procedure(text, "f.yaml")


@pytest.mark.parametrize("setting", ["off", "error", "{level: warning, words: [soon]}"])
def test_what_a_file_sets_for_the_rules(setting: str) -> None:
    text = f"{HEAD}lint: {{vague-words: {setting}}}\nsteps:\n  - step: a\n    say: A.\n"
    for read in READINGS:
        assert validator("procedure.schema.json").is_valid(read(text))
    assert not validator("procedure.schema.json").is_valid(by_yaml_1_2(text.replace(setting, "3")))
