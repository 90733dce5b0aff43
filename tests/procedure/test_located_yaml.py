"""YAML with places. What is plain data is this project's choice; 1 MiB was asked for."""

from __future__ import annotations

import time
from itertools import pairwise

import pytest

from assistant.procedure.fields import as_number
from assistant.procedure.located import (
    LARGEST_FILE,
    LONGEST_SCALAR,
    MOST_VALUES,
    MappingNode,
    ScalarNode,
    read_yaml,
)
from assistant.procedure.problems import Place
from tests.procedure.refusals import assert_told, problems_of, without_signs


def assert_refused_where_it_stands(sample: str, essence: str) -> None:
    """A sample is refused at its sign (see `without_signs`) with words that hold the essence."""
    text, places = without_signs("f.yaml", sample)
    assert_told(problems_of(lambda: read_yaml(text, "f.yaml")), places, (essence,))


@pytest.mark.parametrize(
    ("sample", "essence"),
    [
        ("¶", "empty"),
        ("¶# only a comment\n", "empty"),
        ("a: 1\nb: 2\n¶a: 3\n", "'a' stands twice, first in line 1"),
        ("a: ¶&x 1\n", "anchors"),
        ("a: ¶*x\n", "aliases"),
        ("a: ¶!!str 1\n", "tags"),
        ("a: ¶!!python/object/apply:os.system [x]\n", "tags"),
        ("a: ¶! 1\n", "tags"),
        ("a: 1\n¶---\nb: 2\n", "one document"),
        ("? ¶[a, b]\n: 1\n", "single word"),
        ("{¶{a: b}: c}\n", "single word"),
        ("a: b¶: c\n", "quotes"),
        ("a:\n¶\tb: 1\n", "tabs"),
        ("a: ¶%b\n", "quotes"),
        ("a: b\n c: d¶\x00e\n", "U+0000"),
        ("a: b\nc: d¶\ud800e\n", "U+D800"),
        ("a: b\r\nc: d¶\x1be\r\n", "U+001B"),
        ('a: b\nc: ¶"d\\0"\n', "U+0000"),
        ('a: b\nc: ¶"\\e[2J"\n', "U+001B"),
        ("a: ¶" + "x" * (LONGEST_SCALAR + 1) + "\n", "shorten"),
        ("[" * 20 + "¶" + "[" * 5, "20 levels"),
        ("- " * 20 + "¶" + "- " * 5, "20 levels"),
        ("- a\n" * (MOST_VALUES - 1) + "- ¶a\n", "split it into parts"),
        ("¶" + "#" * LARGEST_FILE + "\n", "1 MiB"),
    ],
)
def test_more_than_plain_data_is_refused_where_it_stands(sample: str, essence: str) -> None:
    assert_refused_where_it_stands(sample, essence)


@pytest.mark.parametrize(
    "text",
    [
        'a: "\\UFFFFFFFF"',
        '"\\ud800"',
        "a: [",
        "a: {b",
        "%YAML 9.9\n---\na",
        "%YAML 1." + "9" * 5000,
    ],
)
def test_what_the_parser_rejects_is_told_with_a_place_in_the_file(text: str) -> None:
    (problem,) = problems_of(lambda: read_yaml(text, "f.yaml"))
    assert problem.place.line >= 1
    assert problem.place.column >= 1
    assert problem.message.strip()


@pytest.mark.parametrize(
    ("sample", "essence"),
    [
        ('say: ¶"Turn it\nask: done\nsay: "Press on"\n', "ends only in line 3"),
        ("say: ¶'Turn it\nask: done\nsay: Don't turn it\n", "ends only in line 3"),
        ('- say: ¶"Turn it\n  ask: done\n', "never ends"),
        ("say: 'Don'¶t turn it'\n", 'put " round the whole text'),
        ('say: "Say "¶yes" now"\n', "put ' round the whole text"),
    ],
)
def test_a_faulty_quote_is_told_where_its_text_begins_or_ends(sample: str, essence: str) -> None:
    assert_refused_where_it_stands(sample, essence)


@pytest.mark.parametrize(
    "text",
    [
        'say: "Turn\n  it"\nask: [done\n',
        'a: {x: "one\n  two", y: [}\n',
        'say: "Open C:\\dir"\n',
        'say: "100 \\% sure"\n',
    ],
)
def test_a_sound_text_in_quotes_is_not_blamed(text: str) -> None:
    (problem,) = problems_of(lambda: read_yaml(text, "f.yaml"))
    assert "the quote before this" not in problem.message
    assert "text in quotes" not in problem.message


@pytest.mark.parametrize(
    ("sample", "line"),
    [("say: Is valve #7\n  ¶shut?\n", 1), ("say: Is\n  #7\n  ¶shut?\n", 2), ("w: [a #7]\n¶", 1)],
)
def test_a_comment_that_breaks_a_text_in_two_is_named(sample: str, line: int) -> None:
    assert_refused_where_it_stands(sample, f"the '#' in line {line} was meant to begin a comment")


def test_aliases_that_would_fill_the_memory_are_refused_at_the_first_anchor() -> None:
    bomb = "a: &a [x, x]\n" + "".join(f"{b}: &{b} [*{a}, *{a}]\n" for a, b in pairwise("abcde"))
    (problem,) = problems_of(lambda: read_yaml(bomb, "f.yaml"))
    assert problem.place == Place("f.yaml", 1, 4)


@pytest.mark.parametrize(
    "piece", ["[", "{", "- ", "? ", "a: ", "a ", "\n", "#\n", "- a\n", "a,", '"', "\\", "'a\n"]
)
def test_a_mebibyte_of_anything_takes_less_than_two_seconds(piece: str) -> None:
    text = (piece * LARGEST_FILE)[:LARGEST_FILE]
    begun = time.perf_counter()
    problems_of(lambda: read_yaml(text, "f.yaml"))
    assert time.perf_counter() - begun < 2


def test_words_that_yaml_takes_for_truth_values_and_numbers_stay_text() -> None:
    root = read_yaml("yes: no\non: off\n07: 1_0\n~: null\n", "f.yaml")
    assert isinstance(root, MappingNode)
    texts = [(key.text, value.text) for key, value in root.entries if isinstance(value, ScalarNode)]
    assert texts == [("yes", "no"), ("on", "off"), ("07", "1_0"), ("~", "null")]


@pytest.mark.parametrize("text", ["\ufeffa: b\n  \nc: d\n", "a: b\r\n\r\nc: d\r\n"])
def test_a_byte_order_mark_and_returns_shift_no_place(text: str) -> None:
    root = read_yaml(text, "f.yaml")
    assert isinstance(root, MappingNode)
    assert [key.place for key, _ in root.entries] == [Place("f.yaml", 1, 1), Place("f.yaml", 3, 1)]
    assert [value.place.column for _, value in root.entries] == [4, 4]


@pytest.mark.parametrize(
    "text", ["nan", ".nan", "inf", ".inf", "-inf", "1e999", "1_0", "0x1", "\u0661", "1,5"]
)
def test_what_is_no_finite_number_in_figures_is_refused(text: str) -> None:
    (problem,) = problems_of(lambda: as_number(read_yaml(text, "f.yaml"), "'turns'"))
    assert f"'turns' must be a number like 1.5, not '{text}'" in problem.message


@pytest.mark.parametrize(
    ("text", "number"), [("1.5", 1.5), ("62", 62), ("-0.5", -0.5), ("1e3", 1000)]
)
def test_a_number_in_figures_is_read(text: str, number: float) -> None:
    assert as_number(read_yaml(text, "f.yaml"), "'turns'") == number
