"""The examples of the writer's guide are taken at their word: each is loaded, linted and played.

Steps alone are put into a part that is called with the open rotor of KF-07, isolated and with the
rods tried, as in the samples of the rules.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest

from assistant.language.english import english
from assistant.procedure.computing import COMPUTATIONS
from assistant.procedure.deeds import ACTS, Fact
from assistant.procedure.load import program_from_texts
from assistant.procedure.located import read_yaml
from assistant.procedure.model import AskKind, NoticeKind
from assistant.procedure.read_file import INPUT_KINDS
from assistant.procedure.rules.lint_file import lint_file
from assistant.procedure.schema.step_schema import step_schema
from assistant.procedure.values import FIELDS, Kind, Value
from assistant.session.core import Session
from tests.procedure.editor_yaml import by_yaml_1_2
from tests.procedure.rules.samples import CALLER, MEANS, part_of
from tests.procedure.shipped import PROCEDURES
from tests.session.job import Job, kf

MAIN = "sample.yaml"
SECONDS_A_REPLY = 3.0

TO_THE_PART = ("yes", "locked")
"""Replies to the steps of the caller."""

PAPERS = {
    "technician": Value(Kind.LETTERS, "RV"),
    "work-order": Value(Kind.LETTERS, "W417"),
}


@dataclass(frozen=True)
class Example:
    """A block of the guide, and what is said to it."""

    yaml: str
    replies: tuple[str, ...]

    @property
    def head(self) -> str:
        return self.yaml.partition(":")[0].lstrip("- ")

    @property
    def content(self) -> Any:
        return by_yaml_1_2(self.yaml)


def examples() -> Iterator[Example]:
    page = (PROCEDURES / "README.md").read_text(encoding="utf-8")
    for block, answers in re.findall(
        r"^```yaml\n(.*?)^```\n(?:\n\*Answered:\* ((?:[^\n]+\n)+))?", page, re.MULTILINE | re.DOTALL
    ):
        yield Example(block, tuple(re.findall("“([^”]+)”", " ".join(answers.split()))))


EXAMPLES = tuple(examples())
PARTS = {f"{part.content['part']}.yaml": part.yaml for part in EXAMPLES if part.head == "part"}
PLAYED = tuple(example for example in EXAMPLES if example.head != "part")


def files_of(example: Example) -> Mapping[str, str]:
    if example.head == "procedure":
        return {MAIN: example.yaml, **PARTS}
    return {MAIN: CALLER, "part.yaml": part_of(example.yaml)}


def papers_of(files: Mapping[str, str]) -> Mapping[str, Value]:
    wanted = by_yaml_1_2(files[MAIN]).get("papers", {})
    return {name: PAPERS[name] for name in wanted}


def first_step(example: Example) -> str:
    steps = example.content["steps"] if example.head == "procedure" else example.content
    return str(steps[0]["step"])


@pytest.mark.parametrize("example", PLAYED, ids=first_step)
def test_an_example_is_played_to_its_end_by_its_replies(example: Example) -> None:
    files = files_of(example)
    program = program_from_texts(MAIN, files.__getitem__)
    session = Session(program, kf("07"), english(), papers_of(files))
    job = Job(session)
    replies = example.replies
    assert replies
    if example.head == "step":
        replies = (*TO_THE_PART, *replies)
    for reply in replies:
        assert not job.finished, f"nothing is asked any more before “{reply}”"
        job.wait(SECONDS_A_REPLY).say(reply)
    assert job.finished, job.said


@pytest.mark.parametrize("example", PLAYED, ids=first_step)
def test_an_example_has_nothing_that_the_linter_tells(example: Example, tmp_path: Path) -> None:
    for name, text in files_of(example).items():
        (tmp_path / name).write_text(text, encoding="utf-8")
    told = list(lint_file(tmp_path / MAIN, MEANS))
    own = [p for p in told if example.head == "procedure" or not p.place.file.endswith(MAIN)]
    assert [str(problem) for problem in own] == []


def steps_of(example: Example) -> list[dict[str, Any]]:
    return list(example.content if example.head == "step" else example.content["steps"])


def test_every_kind_of_step_and_every_field_has_an_example() -> None:
    steps = [step for example in EXAMPLES for step in steps_of(example)]
    assert {step["ask"] for step in steps if "ask" in step} == set(AskKind)
    named = {name for step in steps for name in step}
    assert set(NoticeKind) <= named
    assert named == set(step_schema()["properties"])


def test_every_unit_is_named() -> None:
    page = (PROCEDURES / "README.md").read_text(encoding="utf-8")
    line = page.partition("Units of a number:")[2].partition("\n\n")[0]
    assert {unit.names[0] for unit in english().units} <= set(re.findall(r"`([^`]+)`", line))


IN_WORDS = {Fact.MID_TRAVEL: "cranked to the middle"}
"""Facts that the guide calls otherwise than by their names."""


def test_every_act_is_listed_with_what_it_needs() -> None:
    page = (PROCEDURES / "README.md").read_text(encoding="utf-8")
    rows = page.partition("| act | told | forbidden unless |")[2].partition("\n\n")[0]
    listed: dict[str, set[str]] = {}
    for acts, needs in re.findall(r"^\| ([^|]+) \| [^|]*\| ([^|]*)\|$", rows, re.MULTILINE):
        wanted = {need.strip() for need in needs.split(",") if need.strip()}
        listed |= dict.fromkeys(re.findall("`([^`]+)`", acts), wanted)
    assert listed == {
        act.value: {IN_WORDS.get(fact, fact.value.replace("-", " ")) for fact in deed.needs}
        for act, deed in ACTS.items()
    }


def test_every_field_of_a_value_is_listed() -> None:
    page = (PROCEDURES / "README.md").read_text(encoding="utf-8")
    section = page.partition("### Values\n")[2].partition("### ")[0]
    rows = re.findall(r"^\| (.+?) \| (.+) \|$", section, re.MULTILINE)
    named = {head: set(re.findall("`([^`]+)`", fields)) for head, fields in rows}
    branched = {name.rpartition(".")[2] for name in named["to branch on"]}
    for head, kind in (
        ("`unit`", Kind.UNIT),
        ("an input `rotor`", Kind.ROTOR),
        ("a direction (of `shaft-direction`)", Kind.ADVICE),
        ("a trip (of `prove-trip`)", Kind.TRIP),
    ):
        assert named[head] <= FIELDS[kind].keys() <= named[head] | branched, head


def test_every_kind_of_input_is_listed_with_what_gives_it() -> None:
    page = (PROCEDURES / "README.md").read_text(encoding="utf-8")
    rows = page.partition("### Kinds of values")[2].partition("\n## ")[0]
    listed = dict(re.findall(r"^\| `([^`]+)` \| [^|]+ \| ([^|]+) \|$", rows, re.MULTILINE))
    assert set(listed) == INPUT_KINDS
    for kind, sources in listed.items():
        for head, field in re.findall(r"`(unit|rotor|advice)\.([^`]+)`", sources):
            assert FIELDS[Kind(head)][field].kind is Kind(kind), (head, field)
        for name in re.findall(r"`([a-z-]+)`", sources):
            if name in COMPUTATIONS:
                assert COMPUTATIONS[name].result is Kind(kind), name


def test_every_example_is_in_a_block_that_is_tried() -> None:
    page = (PROCEDURES / "README.md").read_text(encoding="utf-8")
    assert page.count("```") == 2 * len(EXAMPLES)
    assert len(PARTS) == 1
    for example in EXAMPLES:
        read_yaml(example.yaml, "README.md")
