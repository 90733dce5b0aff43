"""A thousand malformed files: each is refused with places, none is a traceback or takes long."""

from __future__ import annotations

import random
import shutil
import time
from collections.abc import Callable, Iterator
from itertools import count
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from assistant.procedure.check_file import check_file
from assistant.procedure.problems import FileRefused
from assistant.procedure.read_file import read_procedure
from assistant.procedure.unit_sheet import read_unit
from tests.procedure.shipped import FLAGSHIP, PROCEDURES, SHIPPED

HOW_MANY = 1000
LONGEST_SECONDS = 2.0

Dice = random.Random
Spoil = Callable[[str, Dice], str | bytes]

ODD_VALUES = (
    *("[]", "{}", "[[]]", "null", "~", "''", '""', "yes", "-1", "0", "1e999", ".inf", ".nan"),
    *("&a 1", "*a", "!!python/name:os.system ''", "!t x", "|", ">", "? x", "- x", "@x", "`x", "%x"),
    *(
        "{rotor.name",
        "rotor.name}",
        "{}",
        "{ }",
        "{unit}",
        "{unit.x}",
        "{{unit.tag}}",
        "unit",
        "next",
    ),
    *("return", "help", "éé", "\u202e", "\ufeff", "\u2028", "\ud800", "\x1b[2J", "\x00", "\x85"),
    *(
        '"\\UFFFFFFFF"',
        '"\\ud800"',
        '"\\x00"',
        "1" * 5000,
        "a-" * 3000,
        "x" * 100_000,
        "{a}" * 1000,
    ),
    *(
        "[" * 3000,
        "{a: " * 300,
        "- " * 300,
        "0x10",
        "1_000",
        "1:30",
        "2001-01-01",
        "<<",
        "=",
        "a: b",
    ),
)
ODD_KEYS = (
    "yes",
    "no",
    "on",
    "off",
    "null",
    "~",
    "1.0",
    "<<",
    "? [a]",
    "''",
    "step",
    "say",
    "x" * 300,
)


def _change_line(text: str, dice: Dice, change: Callable[[str], str]) -> str:
    lines = text.splitlines(keepends=True)
    index = dice.randrange(len(lines))
    lines[index] = change(lines[index])
    return "".join(lines)


def delete_line(text: str, dice: Dice) -> str:
    return _change_line(text, dice, lambda line: "")


def duplicate_line(text: str, dice: Dice) -> str:
    return _change_line(text, dice, lambda line: line * dice.choice((2, 3, 50)))


def swap_lines(text: str, dice: Dice) -> str:
    lines = text.splitlines(keepends=True)
    one, other = dice.randrange(len(lines)), dice.randrange(len(lines))
    lines[one], lines[other] = lines[other], lines[one]
    return "".join(lines)


def indent_badly(text: str, dice: Dice) -> str:
    return _change_line(text, dice, lambda line: dice.choice((" ", "   ", "\t", "\xa0")) + line)


def outdent(text: str, dice: Dice) -> str:
    return _change_line(text, dice, lambda line: line[dice.randint(1, 4) :])


def odd_value(text: str, dice: Dice) -> str:
    value = dice.choice(ODD_VALUES)
    return _change_line(text, dice, lambda line: f"{line.partition(':')[0]}: {value}\n")


def odd_value_within(text: str, dice: Dice) -> str:
    starts = [index for index, letter in enumerate(text) if letter in ":,[{"]
    start = dice.choice(starts) + 1
    return f"{text[:start]} {dice.choice(ODD_VALUES)}{text[start + dice.randint(0, 8) :]}"


def odd_key(text: str, dice: Dice) -> str:
    key = dice.choice(ODD_KEYS)
    return _change_line(text, dice, lambda line: f"{key}:{line.partition(':')[2]}")


def wrong_word(text: str, dice: Dice) -> str:
    words = text.split(" ")
    words[dice.randrange(len(words))] = dice.choice(text.split())
    return " ".join(words)


def drop_letter(text: str, dice: Dice) -> str:
    index = dice.randrange(len(text))
    return text[:index] + text[index + 1 :]


def random_letters(text: str, dice: Dice) -> str:
    index = dice.randrange(len(text))
    odd = "".join(dice.choice("{}[]:,&*!|>'\"%@`#-?\t\r\n\\") for _ in range(dice.randint(1, 6)))
    return text[:index] + odd + text[index:]


def random_unicode(text: str, dice: Dice) -> str:
    index = dice.randrange(len(text))
    return text[:index] + chr(dice.randrange(0x110000)) + text[index:]


def random_bytes(text: str, dice: Dice) -> bytes:
    content = bytearray(text.encode())
    for _ in range(dice.randint(1, 20)):
        content[dice.randrange(len(content))] = dice.randrange(256)
    return bytes(content)


def only_random_bytes(_text: str, dice: Dice) -> bytes:
    return dice.randbytes(dice.choice((1, 10, 1000, 100_000)))


def cut_off(text: str, dice: Dice) -> bytes:
    content = text.encode()
    return content[: dice.randrange(len(content))]


def put_together(text: str, dice: Dice) -> str:
    other = dice.choice(SHIPPED).read_text(encoding="utf-8")
    return text[: dice.randrange(len(text))] + other[dice.randrange(len(other)) :]


def blow_up(text: str, dice: Dice) -> str:
    return text + dice.choice(("- a\n", "[", "a: b\n", "a", "#\n", "\n", "  - step: a\n")) * 300_000


SPOILS: tuple[Spoil, ...] = (
    *(delete_line, duplicate_line, swap_lines, indent_badly, outdent, odd_value, odd_value_within),
    *(odd_key, wrong_word, drop_letter, random_letters, random_unicode, random_bytes, cut_off),
    *(only_random_bytes, put_together),
)


def as_bytes(spoiled: str | bytes) -> bytes:
    return spoiled if isinstance(spoiled, bytes) else spoiled.encode("utf-8", "surrogatepass")


def spoiled_files() -> Iterator[tuple[Path, Spoil, bytes]]:
    """Spoiled files without end, the same in each run; one in a hundred is huge."""
    for seed in count():
        dice = random.Random(seed)
        spoil = blow_up if seed % 100 == 0 else dice.choice(SPOILS)
        file = dice.choice(SHIPPED)
        yield file, spoil, as_bytes(spoil(file.read_text(encoding="utf-8"), dice))


def problem_seconds(file: Path, folder: Path) -> float | None:
    """How long it took to refuse a file; None where it is still right."""
    begun = time.process_time()
    try:
        check_file(file)
    except FileRefused as refused:
        took = time.process_time() - begun
        assert refused.problems
        for problem in refused.problems:
            assert Path(problem.place.file).is_relative_to(folder)
            assert problem.place.line >= 1
            assert problem.place.column >= 1
            assert problem.message.strip()
            assert "\n" not in problem.message
            str(problem).encode("utf-8")  # what cannot be printed would be a traceback later
        return took
    return None


def test_a_thousand_malformed_files_are_refused_with_places(tmp_path: Path) -> None:
    folder = tmp_path / "procedures"
    shutil.copytree(PROCEDURES, folder)
    refused = drawn = 0
    for file, spoil, content in spoiled_files():
        drawn += 1
        copy = folder / file.relative_to(PROCEDURES)
        copy.write_bytes(content)
        is_sheet = file.parent.name == "units"
        seconds = problem_seconds(copy if is_sheet else folder / FLAGSHIP.name, folder)
        shutil.copyfile(file, copy)
        if seconds is not None:
            refused += 1
            assert seconds < LONGEST_SECONDS, (file.name, spoil.__name__, seconds)
        if refused == HOW_MANY:
            break
    assert drawn < 2 * HOW_MANY, "too many of the spoiled files were still right"


@pytest.mark.parametrize("read", [read_procedure, read_unit])
@given(text=st.text())
@settings(max_examples=200, derandomize=True, deadline=None)
def test_any_text_is_refused_with_a_place(read: Callable[[str, str], object], text: str) -> None:
    with pytest.raises(FileRefused) as caught:
        read(text, "f.yaml")
    for problem in caught.value.problems:
        assert problem.place.line >= 1
        assert problem.place.column >= 1
        assert problem.message.strip()
