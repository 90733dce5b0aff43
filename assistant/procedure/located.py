"""YAML in which every value knows its line and column.

Only plain data is read: mappings, sequences and scalars, as YAML calls them. A scalar stays the
text that was written, and the reader of a field says what it wants of it, so that an answer ``yes``
stays a word and a revision ``07`` keeps its zero. Tags, anchors and aliases, several documents in
one file, duplicate keys, deep nesting and files over 1 MiB are refused: none is needed here, and
each can hide a mistake or exhaust the machine.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache
from typing import NoReturn

import yaml

from assistant.procedure.problems import Place, refuse
from assistant.procedure.quotes import Mark, faulty_quote

__all__ = [
    "CUT_OFF",
    "LARGEST_FILE",
    "LOADER",
    "Located",
    "MappingNode",
    "ScalarNode",
    "SequenceNode",
    "read_yaml",
]

LARGEST_FILE = 1024 * 1024
"""Bytes."""

CUT_OFF = (
    "the text ends at '#', where YAML begins a comment: put quotes round the text, without the "
    "comment if it is one"
)

DEEPEST_NESTING = 20
MOST_VALUES = 20_000
"""Some thousand steps; nobody keeps that many in view."""

LONGEST_SCALAR = 4000
"""Characters; some four minutes of speech."""

LOADER = getattr(yaml, "CSafeLoader", yaml.SafeLoader)
"""The parser: the one in C where PyYAML brings it, with the same events, thirty times as fast."""

_COMMENT = re.compile(r"\s+(?P<sign>#(?!\s*allow\s).*)")
"""A comment behind a text; one that allows what a rule finds is meant as a comment."""

_LINE_BEGINS = re.compile(r"(?:- *|[ \t])*")
"""What stands before the first word of a line: indentation, and the dashes of lists."""

_UNPRINTABLE = re.compile(
    "[^\t\n\r\x20-\x7e\x85\xa0-\ud7ff\ue000-\ufefe\uff00-\ufffd\U00010000-\U0010ffff]"
)
"""YAML 1.1 §4.1.1 (c-printable), less the byte order mark."""


@dataclass(frozen=True, slots=True)
class ScalarNode:
    """A single piece of text.

    Args:
        place: where it begins.
        text: what it says, without quotes and folding.
        written: how it stands in the file.
        cut_at: where a comment begins that the writer may have meant as the rest of the text; None
            where there is none.
    """

    place: Place
    text: str
    written: str
    cut_at: Place | None = None


@dataclass(frozen=True, slots=True)
class SequenceNode:
    """A list."""

    place: Place
    items: tuple[Located, ...]


@dataclass(frozen=True, slots=True)
class MappingNode:
    """Keys and their values; a key is a scalar and stands once."""

    place: Place
    entries: tuple[tuple[ScalarNode, Located], ...]


Located = ScalarNode | SequenceNode | MappingNode


@lru_cache(maxsize=64)
def read_yaml(text: str, file: str) -> Located:
    """Read one YAML document.

    Args:
        text: the whole file.
        file: its name, for messages.

    Raises:
        FileRefused: where it is no YAML or more than plain data; the place is named.
    """
    source = _Source(text.removeprefix("\ufeff"), file)
    source.refuse_unfit()
    events = source.events()
    try:
        root = next((_located(event, events, source) for event in events), None)
        next(events, None)
    except yaml.MarkedYAMLError as error:
        _refuse_syntax(source, error)
    except (yaml.YAMLError, ValueError, OverflowError) as error:
        # The parser in Python gives no place for some escapes ("\UFFFFFFFF") and huge numbers.
        refuse(source.place(None), f"not readable as YAML: {error}; check backslashes", "syntax")
    if root is None:
        refuse(source.place(None), "the file is empty", "syntax")
    return root


def _refuse_syntax(source: _Source, error: yaml.MarkedYAMLError) -> NoReturn:
    if quote := faulty_quote(error, yaml.scan(source.text, Loader=LOADER)):
        refuse(source.place(quote.mark), quote.message, "syntax")
    reason = _reason(error, source.last_cut())
    refuse(source.place(error.problem_mark or error.context_mark), reason, "syntax")


def _reason(error: yaml.MarkedYAMLError, cut_at: Place | None) -> str:
    reason = ", ".join(part for part in (error.context, error.problem) if part)
    remedy = "check indentation, colons and quotes"
    if cut_at:
        remedy += f", and whether the '#' in line {cut_at.line} was meant to begin a comment"
    if "start any token" in reason:
        remedy = "indent by spaces, not tabs, and put quotes round a text that begins with a sign"
    if "mapping values" in reason:
        remedy = "put quotes round a text with a colon in it, or check the indentation"
    return f"not readable as YAML: {reason}; {remedy}"


@dataclass(frozen=True, slots=True)
class _Source:
    """The text of a file, and where in it things stand."""

    text: str
    file: str

    def place(self, mark: Mark | None) -> Place:
        return Place(self.file, mark.line + 1, mark.column + 1) if mark else Place(self.file, 1, 1)

    def refuse_unfit(self) -> None:
        """Refuse what the parser had better not see."""
        start = self.place(None)
        if len(self.text.encode("utf-8", "surrogatepass")) > LARGEST_FILE:
            refuse(start, "the file is over 1 MiB: split it into parts", "file-size")
        if strange := _UNPRINTABLE.search(self.text):
            refuse(start.after(self.text[: strange.start()]), _strange(strange[0]), "plain-data")

    def events(self) -> Iterator[yaml.Event]:
        """The events of nodes, as far as they are plain data."""
        depth = documents = values = 0
        for event in yaml.parse(self.text, Loader=LOADER):
            documents += isinstance(event, yaml.DocumentStartEvent)
            depth += isinstance(event, yaml.CollectionStartEvent)
            depth -= isinstance(event, yaml.CollectionEndEvent)
            values += isinstance(event, yaml.ScalarEvent | yaml.CollectionStartEvent)
            fault = _excess(documents, depth, values) or _beyond_plain_data(event)
            if fault:
                refuse(self.place(event.start_mark), fault, "plain-data")
            if isinstance(event, yaml.NodeEvent | yaml.CollectionEndEvent):
                yield event

    def scalar(self, event: yaml.ScalarEvent) -> ScalarNode:
        start, end = event.start_mark, event.end_mark
        written = self.text[start.index : end.index] if start and end else ""
        return ScalarNode(self.place(start), event.value, written, self._cut_at(event))

    def _cut_at(self, event: yaml.ScalarEvent) -> Place | None:
        """Where a comment begins that may be the rest of a text without quotes.

        It stands on the last line of the text, or below where the text would go on.
        """
        start, end = event.start_mark, event.end_mark
        if event.style or not start or not end:
            return None
        comment = _COMMENT.match(self.text, end.index)
        if comment is None:
            return None
        place = self.place(end).after(self.text[end.index : comment.start("sign")])
        below = place.line > end.line + 1
        return None if below and place.column <= self._goes_on_from(start) else place

    def _goes_on_from(self, start: Mark) -> int:
        """The column, from 1, right of which a line goes on with the text that begins there."""
        line = self.text[start.index - start.column : start.index]
        begins = _LINE_BEGINS.match(line)
        first = begins.end() if begins else 0
        return first + 1 if first < start.column else start.column

    def last_cut(self) -> Place | None:
        """Where the last text that can be read was cut off by a comment; None where it was not."""
        last = None
        try:
            for event in yaml.parse(self.text, Loader=LOADER):
                last = event if isinstance(event, yaml.ScalarEvent) else last
        except yaml.YAMLError:
            pass
        return self._cut_at(last) if last else None


def _excess(documents: int, depth: int, values: int) -> str | None:
    if documents > 1:
        return "one document a file: remove the line '---'"
    if depth > DEEPEST_NESTING:
        return f"nested deeper than {DEEPEST_NESTING} levels: write it flatter"
    if values > MOST_VALUES:
        return f"over {MOST_VALUES} values in one file: split it into parts"
    return None


def _beyond_plain_data(event: yaml.Event) -> str | None:
    if isinstance(event, yaml.AliasEvent):
        return "aliases (*name) are not used here: write the value out"
    if isinstance(event, yaml.NodeEvent) and event.anchor:
        return "anchors (&name) are not used here: write the value out"
    if isinstance(event, yaml.ScalarEvent | yaml.CollectionStartEvent) and event.tag:
        return "tags (!name) are not used here: remove it"
    if isinstance(event, yaml.ScalarEvent):
        return _unfit_scalar(event.value)
    return None


def _unfit_scalar(text: str) -> str | None:
    if len(text) > LONGEST_SCALAR:
        return f"a text of over {LONGEST_SCALAR} characters: nobody listens that long; shorten it"
    strange = _UNPRINTABLE.search(text)
    return _strange(strange[0]) if strange else None


def _strange(character: str) -> str:
    return f"the character U+{ord(character):04X} cannot be shown or spoken: remove it"


def _located(event: yaml.Event, events: Iterator[yaml.Event], source: _Source) -> Located:
    """The node that begins with an event; what belongs to it is taken from the events."""
    if isinstance(event, yaml.ScalarEvent):
        return source.scalar(event)
    place = source.place(event.start_mark)
    inner = (_located(item, events, source) for item in _until_end(events))
    if isinstance(event, yaml.SequenceStartEvent):
        return SequenceNode(place, tuple(inner))
    return MappingNode(place, tuple(_entries(inner)))


def _until_end(events: Iterator[yaml.Event]) -> Iterator[yaml.Event]:
    for event in events:
        if isinstance(event, yaml.CollectionEndEvent):
            return
        yield event


def _entries(nodes: Iterator[Located]) -> Iterator[tuple[ScalarNode, Located]]:
    first: dict[str, int] = {}
    for key in nodes:
        if not isinstance(key, ScalarNode):
            refuse(key.place, "a key must be a single word or number", "plain-data")
        if key.text in first:
            refuse(
                key.place,
                f"'{key.text}' stands twice, first in line {first[key.text]}: keep one",
                "duplicate-key",
            )
        first[key.text] = key.place.line
        yield key, next(nodes)
