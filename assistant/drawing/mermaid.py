"""A chart as the source of a Mermaid flowchart.

Grammar: the documentation of Mermaid, "Flowcharts - Basic Syntax": a text stands in double quotes,
and characters that would end it are written as entity codes (``#quot;``, ``#35;``).
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping

from assistant.drawing.chart import Box, Chart, Form, Item
from assistant.drawing.labels import heading, lines

__all__ = ["to_mermaid"]

_AROUND: Mapping[Form, tuple[str, str]] = {
    Form.TELL: ("[", "]"),
    Form.ASK: ("[/", "/]"),
    Form.COMPUTE: ("(", ")"),
    Form.BRANCH: ("{", "}"),
    Form.REPEAT: ("[/", "\\]"),
    Form.HOLD: ("{{", "}}"),
    Form.CALL: ("[[", "]]"),
    Form.END: ("([", "])"),
    Form.RETURN: ("([", "])"),
}

_UNSAFE = re.compile(r"[^\w .,;:!?'“”…%/()+=-]")
"""All but these is written as the number of the character; a semicolon only in one's end."""


def to_mermaid(chart: Chart) -> str:
    """The source, ending in a newline."""
    ids = {box.key: f"s{number}" for number, box in enumerate(chart.boxes)}
    title = f"accTitle: {_plain(chart.title)}"
    described = f"accDescr: {_plain(chart.subtitle)}"
    head = ("flowchart TB", f"    {title}", f"    {described}")
    return "\n".join((*head, *_items(chart.items, ids, "    "), *_arcs(chart, ids))) + "\n"


def _items(items: tuple[Item, ...], ids: Mapping[str, str], indent: str) -> Iterator[str]:
    for item in items:
        if isinstance(item, Box):
            yield indent + _box(item, ids)
            continue
        yield f'{indent}subgraph g{ids[item.call.key]}["{_safe(item.title)}"]'
        yield f"{indent}    {_box(item.call, ids)}"
        yield from _items(item.items, ids, f"{indent}    ")
        yield f"{indent}end"


def _box(box: Box, ids: Mapping[str, str]) -> str:
    before, behind = _AROUND[box.form]
    text = "<br>".join(map(_safe, (heading(box), *lines(box))))
    return f'{ids[box.key]}{before}"{text}"{behind}'


def _arcs(chart: Chart, ids: Mapping[str, str]) -> Iterator[str]:
    for arc in chart.arcs:
        label = "" if arc.outcome == "next" else f'|"{_safe(arc.outcome)}"|'
        yield f"    {ids[arc.source]} -->{label} {ids[arc.target]}"


def _safe(text: str) -> str:
    return _UNSAFE.sub(lambda found: f"#{ord(found[0])};", text)


def _plain(text: str) -> str:
    """A title or description stands without quotes, up to the end of its line."""
    return re.sub(r"[^\w .,:'-]", " ", text)
