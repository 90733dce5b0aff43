"""Samples in which the sign ¶ stands where a problem must be told."""

from __future__ import annotations

from collections.abc import Callable, Mapping

import pytest

from assistant.procedure.load import program_from_texts
from assistant.procedure.problems import FileRefused, Place, Problem, refuse
from assistant.procedure.program import Program

MAIN = "main.yaml"
FOLDER = "site"

HEAD = "procedure: sample\ntitle: A sample\nrevision: A\nabout: A sample.\n"
PART_HEAD = HEAD.replace("procedure:", "part:")

END = """\
  - step: finish
    say: Done.
    end: job
"""


def steps(text: str, end: str = END) -> str:
    """A procedure of these steps and a last one that ends the job."""
    return f"{HEAD}steps:\n{text}{end}"


def part(text: str, inputs: str = "{rotor: rotor}") -> str:
    """A part of these steps."""
    return f"{PART_HEAD}inputs: {inputs}\nsteps:\n{text}"


def without_signs(file: str, text: str) -> tuple[str, list[Place]]:
    """A sample as it is to be read, and the places of its signs."""
    pieces = text.split("¶")
    before = ["".join(pieces[: index + 1]) for index in range(len(pieces) - 1)]
    return "".join(pieces), [
        Place(file, piece.count("\n") + 1, len(piece) - piece.rfind("\n")) for piece in before
    ]


def problems_of(load: Callable[[], object]) -> tuple[Problem, ...]:
    """The problems for which something is refused."""
    with pytest.raises(FileRefused) as caught:
        load()
    return caught.value.problems


def assert_told(
    problems: tuple[Problem, ...], places: list[Place], essences: tuple[str, ...]
) -> None:
    """The problems stand at these places, and each message holds its essence."""
    assert [problem.place for problem in problems] == sorted(places), "\n".join(map(str, problems))
    for problem, essence in zip(problems, essences, strict=True):
        assert essence in problem.message


def load(files: Mapping[str, str] | str) -> Program:
    """Load a procedure from its texts, or from the text of its only file."""
    texts = {MAIN: files} if isinstance(files, str) else files

    def text_of(name: str) -> str:
        if name not in texts:
            refuse(Place(name, 1, 1), "there is no such file: check the name", "file")
        return texts[name]

    return program_from_texts(MAIN, text_of, FOLDER)


def assert_refused(files: Mapping[str, str] | str, *essences: str) -> None:
    """A procedure is refused at each sign; the essences are in the order of the places."""
    signed = {MAIN: files} if isinstance(files, str) else files
    texts: dict[str, str] = {}
    places: list[Place] = []
    for name, text in signed.items():
        texts[name], found = without_signs(f"{FOLDER}/{name}", text)
        places += found
    assert_told(problems_of(lambda: load(texts)), places, essences)
