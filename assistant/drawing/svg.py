"""A chart as SVG: A4 pages below one another, text as text, nothing from outside the file."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from xml.sax.saxutils import escape, quoteattr

from assistant.drawing.chart import Box, Chart, Form
from assistant.drawing.labels import heading
from assistant.drawing.layout import (
    BOX_WIDTH,
    HEADING,
    LANE,
    LEADING,
    MARGIN,
    PADDING,
    PAGE_HEIGHT,
    PAGE_WIDTH,
    TEXT,
    Frame,
    Layout,
    Placed,
    Way,
    lay_out,
)
from assistant.drawing.metrics import wrapped
from assistant.drawing.outline import outline

__all__ = ["to_svg"]

_STYLE = """
  @page { size: A4; margin: 0 }
  svg { background: #fff; font-family: "Liberation Sans", Arial, Helvetica, sans-serif }
  text { fill: #1b2330; white-space: pre }
  .heading, .gate { font-weight: 700 }
  .kind, .soft { fill: #566072 }
  .notice { font-weight: 700; fill: #8a3b00 }
  .act { fill: #0b5563 }
  .way { font-weight: 700 }
  .label { fill: #0b5563; paint-order: stroke; stroke: #fff; stroke-width: 4 }
  .at-end { text-anchor: end }
  .in-middle { text-anchor: middle }
  .outline { fill: #fff; stroke: #1b2330; stroke-width: .9 }
  .ask .outline { fill: #eef5f6 }
  .hold .outline { stroke: #8a3b00; stroke-width: 2.2; fill: #fff6ea }
  .call .outline, .branch .outline, .repeat .outline { fill: #f4f5f7 }
  .end .outline, .return .outline { stroke-width: 1.8 }
  .frame { fill: none; stroke: #0b5563; stroke-width: .8 }
  .arc { fill: none; stroke: #1b2330; stroke-width: .8 }
  .pill { fill: #fff }
  .back { stroke-dasharray: 3 2 }
  .tip { fill: #1b2330; stroke: none }
  .rule { stroke: #0b5563; stroke-width: 2 }
"""

_KEY: tuple[tuple[Form, str], ...] = (
    (Form.TELL, "tells"),
    (Form.ASK, "asks"),
    (Form.COMPUTE, "works out"),
    (Form.BRANCH, "goes by a value"),
    (Form.REPEAT, "repeats, with limit"),
    (Form.HOLD, "holds"),
    (Form.CALL, "a part"),
    (Form.END, "end"),
)


def to_svg(chart: Chart) -> str:
    """The picture as a whole document, ending in a newline."""
    layout = lay_out(chart)
    placed = {place.box.key: place for place in layout.placed}
    height = layout.pages * PAGE_HEIGHT
    head = (
        '<?xml version="1.0" encoding="UTF-8"?>',
        f'<svg xmlns="http://www.w3.org/2000/svg" lang="en" width="{PAGE_WIDTH:g}pt" '
        f'height="{height:g}pt" viewBox="0 0 {PAGE_WIDTH:g} {height:g}" '
        'role="graphics-document document" aria-roledescription="state diagram" '
        'aria-labelledby="title description">',
        f'<title id="title">{escape(chart.title)}: state diagram</title>',
        f'<desc id="description">{escape(_description(chart))}</desc>',
        f"<style>{_STYLE}</style>",
    )
    body = [line for page in range(layout.pages) for line in _page(layout, page, placed)]
    return "\n".join((*head, *body, "</svg>")) + "\n"


def _description(chart: Chart) -> str:
    steps = sum(box.number is not None for box in chart.boxes)
    return (
        f"{chart.subtitle}. {steps} steps in the order of speech, from the first box down and "
        f"column by column, with {len(chart.arcs)} ways from one to another. Each box names its "
        "outcomes and the number of the step to which each leads."
    )


def _page(layout: Layout, page: int, placed: Mapping[str, Placed]) -> Iterator[str]:
    chart = layout.chart
    yield f'<g transform="translate(0 {page * PAGE_HEIGHT:g})">'
    yield _text(chart.title, (MARGIN, 34), 15 if page == 0 else 11, "heading")
    number = f"page {page + 1} of {layout.pages}"
    yield _text(number, (PAGE_WIDTH - MARGIN, 34), TEXT, "soft at-end")
    subtitle = wrapped(chart.subtitle, PAGE_WIDTH - 2 * MARGIN, TEXT, 1)[0]
    yield _text(subtitle, (MARGIN, 45), TEXT, "soft")
    yield f'<path class="rule" d="M{MARGIN:g},50 H{PAGE_WIDTH - MARGIN:g}"/>'
    if page == 0:
        yield from _key()
    for frame in layout.frames:
        if frame.page == page:
            yield from _frame(frame)
    for place in layout.placed:
        if place.page == page:
            yield from _box(place)
    for place in layout.placed:
        if place.page == page:
            for way in place.ways:
                yield _way(place, way, placed[way.arc.target])
    yield "</g>"


def _key() -> Iterator[str]:
    step = (PAGE_WIDTH - 2 * MARGIN) / len(_KEY)
    yield '<g role="presentation">'
    for place, (form, name) in enumerate(_KEY):
        x = MARGIN + place * step
        path = outline(form, x, 58, 26, 13)
        yield f'<g class="{form}"><path class="outline" d="{path}"/></g>'
        yield _text(name, (x, 81), 6.6, "soft")
    told = (
        "solid arc: goes on; dashed: goes back; number in a ring: leads to the step of that number"
    )
    yield _text(told, (MARGIN, 92), 6.6, "soft")
    yield "</g>"


def _frame(frame: Frame) -> Iterator[str]:
    told = f"{heading(frame.group.call)}: {frame.group.title}"
    yield (
        f'<g role="group" aria-label={quoteattr(told)}><title>{escape(told)}</title>'
        f'<rect class="frame" x="{frame.x:.1f}" y="{frame.y:.1f}" width="{frame.width:.1f}" '
        f'height="{frame.height:.1f}" rx="3"/>'
    )
    if frame.label:
        yield _text(frame.label, (frame.x + 7, frame.y + 2.2), 6.6, "label")
    yield "</g>"


def _box(place: Placed) -> Iterator[str]:
    box = place.box
    path = outline(box.form, place.x, place.y, BOX_WIDTH, place.height)
    yield (
        f'<g class="box {box.form}" data-step={quoteattr(box.key)} '
        f'role="graphics-object" aria-label={quoteattr(_spoken(place))}>'
    )
    yield f"<title>{escape(_spoken(place))}</title>"
    yield f'<path class="outline" d="{path}"/>'
    if box.is_gate:
        bar = f"M{place.x - 2:.1f},{place.y:.1f} v{place.height:.1f}"
        yield f'<path d="{bar}" stroke="#1b2330" stroke-width="3"/>'
    for line in place.lines:
        size = HEADING if line.role == "heading" else TEXT
        y = place.y + line.top + LEADING - 2
        yield _text(line.text, (place.x + PADDING, y), size, line.role)
    yield "</g>"


def _spoken(place: Placed) -> str:
    """The whole of a box in words, for who hears it or points at it."""
    box = place.box
    return " ".join(f"{heading(box)}: {box.kind}. {_content(box)}".split())


def _content(box: Box) -> str:
    notices = " ".join(f"{kind}. {text}" for kind, text in box.notices)
    acts = "; ".join(f"does {act}" for act in box.acts)
    return f"{notices} {acts} {box.says} {box.deviation}"


def _way(place: Placed, way: Way, target: Placed) -> str:
    known = (
        f"data-from={quoteattr(way.arc.source)} data-outcome={quoteattr(way.arc.outcome)} "
        f"data-to={quoteattr(way.arc.target)}"
    )
    words = f"{heading(place.box)}, {way.arc.outcome}: to {heading(target.box)}"
    told = f"<title>{escape(words)}</title>"
    if way.row is None:
        x, top = place.x + BOX_WIDTH / 2, place.y + place.height
        line, tip = f"M{x:.1f},{top:.1f} V{target.y - 4:.1f}", _tip_down(x, target.y)
        return f'<g {known}>{told}<path class="arc" d="{line}"/>{tip}</g>'
    y = place.y + way.row
    if way.lane is None:
        return f"<g {known}>{told}{_connector(place, y, way, target)}</g>"
    side = -1 if way.back else 1
    edge = place.x if way.back else place.x + BOX_WIDTH
    lane = edge + side * (way.lane + 1) * LANE + side * 2
    into = target.y + 8
    line = f"M{edge:.1f},{y:.1f} H{lane:.1f} V{into:.1f} H{edge + side * 4:.1f}"
    style = "arc back" if way.back else "arc"
    return f'<g {known}>{told}<path class="{style}" d="{line}"/>{_tip_aside(edge, into, side)}</g>'


def _connector(place: Placed, y: float, way: Way, target: Placed) -> str:
    """A pill that names the step to which an arc leads that leaves its column."""
    side = -1 if way.back else 1
    edge = place.x if way.back else place.x + BOX_WIDTH
    number = "" if target.box.number is None else str(target.box.number)
    middle = edge + side * 14
    style = "arc back" if way.back else "arc"
    return (
        f'<path class="{style}" d="M{edge:.1f},{y:.1f} H{middle - side * 8:.1f}"/>'
        f'<rect class="arc pill" x="{middle - 8.5:.1f}" y="{y - 4.2:.1f}" width="17" height="8.4" '
        'rx="4.2"/>'
        f"{_text(number, (middle, y + 2.2), 6.4, 'heading in-middle')}"
    )


def _tip_down(x: float, y: float) -> str:
    return f'<path class="tip" d="M{x:.1f},{y:.1f} l-2.6,-5 h5.2 Z"/>'


def _tip_aside(x: float, y: float, side: int) -> str:
    return f'<path class="tip" d="M{x:.1f},{y:.1f} l{side * 5},-2.6 v5.2 Z"/>'


def _text(text: str, at: tuple[float, float], size: float, role: str) -> str:
    place = f'x="{at[0]:.1f}" y="{at[1]:.1f}" font-size="{size:g}"'
    return f'<text class="{role}" {place}>{escape(text)}</text>'
