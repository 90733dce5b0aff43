"""Texts with signs that mean something to a format are drawn as they were written."""

from __future__ import annotations

import re
from xml.etree import ElementTree

import pytest

from assistant.drawing import Chart, main_file, to_dot, to_mermaid, to_svg, whole
from assistant.procedure import load_program, program_from_texts
from tests.procedure.shipped import FLAGSHIP

TEXT = """
procedure: awkward
title: 'Quotes " and <angles> & (round) {names}: all'
revision: "1"
about: Texts that are awkward.
papers: {b: letters}
steps:
  - step: end
    say: 'Say: "a" {b} (c) [d] <e> & f; g # h | i \\ j \\n k `l` --> m % n'
    end: job
"""


@pytest.fixture
def chart() -> Chart:
    return main_file(program_from_texts("awkward.yaml", {"awkward.yaml": TEXT}.__getitem__))


SAID = 'Say: "a" {b} (c) [d] <e> & f; g # h | i \\ j \\n k `l` --> m % n'


def test_svg_gives_the_text_back(chart: Chart) -> None:
    root = ElementTree.fromstring(to_svg(chart))
    assert any(SAID in (element.text or "") for element in root.iter())
    assert any(chart.title in (element.text or "") for element in root.iter())


def test_dot_gives_the_text_back(chart: Chart) -> None:
    """DOT Language: in a double-quoted string only the escaped quote and backslash are special."""
    strings = re.findall(r'"((?:[^"\\]|\\.)*)"', to_dot(chart))
    plain = [re.sub(r"\\(.)", lambda m: "\n" if m[1] == "n" else m[1], text) for text in strings]
    assert any(SAID in text for text in plain)


def test_mermaid_gives_the_text_back(chart: Chart) -> None:
    """Mermaid's flowchart syntax: entity codes are a sign's number between # and ;."""
    strings = re.findall(r'"([^"]*)"', to_mermaid(chart))
    plain = [re.sub(r"#(\d+);", lambda m: chr(int(m[1])), text) for text in strings]
    assert any(SAID in text for text in plain)


STATEMENT = re.compile(
    r"""\ *(?:
        flowchart\ TB
      | acc(?:Title|Descr):\ [^"{}\[\]|<>;\#]+
      | subgraph\ gs\d+\["[^"]*"\]
      | end
      | s\d+(?:\["[^"]*"\]|\[/"[^"]*"[/\\]\]|\("[^"]*"\)|\{"[^"]*"\}|\{\{"[^"]*"\}\}|\[\["[^"]*"\]\]
            |\(\["[^"]*"\]\))
      | s\d+\ -->(?:\|"[^"]*"\|)?\ s\d+
    )""",
    re.X,
)
"""The statements of Mermaid's "Flowcharts - Basic Syntax" that are used here."""


def test_mermaid_is_made_of_documented_statements_only(chart: Chart) -> None:
    for drawn in (chart, whole(load_program(FLAGSHIP))):
        for line in to_mermaid(drawn).splitlines():
            assert STATEMENT.fullmatch(line), line
            for text in re.findall(r'"([^"]*)"', line):
                without = re.sub(r"#\d+;|<br>", "", text)
                assert not re.search(r'[<>{}|\[\]#`"\\]', without), text


def test_dot_is_balanced_and_quoted(chart: Chart) -> None:
    for drawn in (chart, whole(load_program(FLAGSHIP))):
        bare = re.sub(r'"(?:[^"\\]|\\.)*"', "Q", to_dot(drawn))
        assert bare.count("{") == bare.count("}")
        assert bare.count("[") == bare.count("]")
        assert not re.search(r"[^\w\s{}\[\]=,;>-]", bare), "something stands outside of quotes"
