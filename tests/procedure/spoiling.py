"""Shipped files, each spoiled in one way: by bytes, letters, words, lines and values."""

from __future__ import annotations

import random
from collections.abc import Callable, Iterator
from itertools import count
from pathlib import Path

from tests.procedure.shipped import SHIPPED

__all__ = ["Spoil", "spoiled_files"]

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
