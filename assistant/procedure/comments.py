"""The comments of a YAML file, which the parser passes over."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass

import yaml

from assistant.procedure.located import LOADER
from assistant.procedure.problems import Place

__all__ = ["Comment", "comments_in"]

_COMMENT = re.compile(r"(?:^|(?<=[ \t]))#[^\n]*", re.MULTILINE)


@dataclass(frozen=True, slots=True)
class Comment:
    """A comment, from its sign to the end of the line."""

    place: Place
    text: str


def comments_in(text: str, file: str) -> Iterator[Comment]:
    """The comments of a file that can be read as YAML, in its order.

    Args:
        text: the whole file.
        file: its name.
    """
    text = text.removeprefix("\ufeff")
    start = Place(file, 1, 1)
    within = _scalars(text)
    for found in _COMMENT.finditer(text):
        if not any(begin <= found.start() < end for begin, end in within):
            yield Comment(start.after(text[: found.start()]), found[0].rstrip())


def _scalars(text: str) -> list[tuple[int, int]]:
    """Where each scalar begins and ends; a sign in it begins no comment."""
    return [
        (event.start_mark.index, event.end_mark.index)
        for event in yaml.parse(text, Loader=LOADER)
        if isinstance(event, yaml.ScalarEvent) and event.start_mark and event.end_mark
    ]
