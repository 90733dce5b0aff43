"""A chart as the source of a Graphviz digraph (the DOT language).

Grammar: Graphviz's documentation, "DOT Language": in a double-quoted string the quote is escaped
by a backslash, and so is the backslash itself, which would begin an escape of Graphviz's own.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from assistant.drawing.chart import Box, Chart, Form, Item
from assistant.drawing.labels import heading, lines

__all__ = ["to_dot"]

_SHAPES: Mapping[Form, str] = {
    Form.TELL: "box",
    Form.ASK: "parallelogram",
    Form.COMPUTE: "component",
    Form.BRANCH: "diamond",
    Form.REPEAT: "trapezium",
    Form.HOLD: "octagon",
    Form.CALL: "box, peripheries=2",
    Form.END: "oval",
    Form.RETURN: "oval",
}


def to_dot(chart: Chart) -> str:
    """The source, ending in a newline."""
    head = (
        f"digraph {_quoted(chart.title)} {{",
        f"    label={_quoted(f'{chart.title}: {chart.subtitle}')}; labelloc=t;",
        '    node [fontname="Helvetica", fontsize=10]; edge [fontname="Helvetica", fontsize=9];',
    )
    body = (*_items(chart.items, "    "), *_arcs(chart))
    return "\n".join((*head, *body, "}")) + "\n"


def _items(items: tuple[Item, ...], indent: str) -> Iterator[str]:
    for item in items:
        if isinstance(item, Box):
            yield indent + _box(item)
            continue
        yield f"{indent}subgraph {_quoted(f'cluster {item.call.key}')} {{"
        yield f"{indent}    label={_quoted(item.title)};"
        yield f"{indent}    {_box(item.call)}"
        yield from _items(item.items, f"{indent}    ")
        yield f"{indent}}}"


def _box(box: Box) -> str:
    text = "\\n".join(map(_escaped, (heading(box), *lines(box))))
    return f'{_quoted(box.key)} [shape={_SHAPES[box.form]}, label="{text}"];'


def _arcs(chart: Chart) -> Iterator[str]:
    for arc in chart.arcs:
        label = "" if arc.outcome == "next" else f" [label={_quoted(arc.outcome)}]"
        yield f"    {_quoted(arc.source)} -> {_quoted(arc.target)}{label};"


def _quoted(text: str) -> str:
    return f'"{_escaped(text)}"'


def _escaped(text: str) -> str:
    return text.replace("\\", "\\\\").replace('"', '\\"')
