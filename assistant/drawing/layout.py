"""Set a chart out: in columns on A4 pages, in the order of speech, each way out with its port.

Every length is in points (1/72 inch), y from the top of its page. A box stands whole in one column.
Beside its column run the lanes of the arcs that stay in it: those that go on at the right, those
that go back at the left, the short ones inside. An arc that leaves its column, or finds no lane
free, ends in a connector that names the number of the step it goes to.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field

from assistant.drawing.chart import Arc, Box, Chart, Form, Group, Item
from assistant.drawing.labels import heading
from assistant.drawing.metrics import wrapped

__all__ = [
    "BOX_WIDTH",
    "COLUMN_TOP",
    "HEADING",
    "LANE",
    "LEADING",
    "MARGIN",
    "PADDING",
    "PAGE_HEIGHT",
    "PAGE_WIDTH",
    "TEXT",
    "Frame",
    "Layout",
    "Line",
    "Placed",
    "Way",
    "lay_out",
]

PAGE_WIDTH, PAGE_HEIGHT = 595.28, 841.89  # A4
MARGIN = 28.0  # 10 mm
COLUMN_TOP, FIRST_TOP, COLUMN_BOTTOM = 64.0, 108.0, 814.0
COLUMNS = 2
GUTTER = 12.0
LANE = 4.5
LEFT_LANES, RIGHT_LANES = 4, 5
LEFT, RIGHT = (LEFT_LANES + 1) * LANE + 4, (RIGHT_LANES + 1) * LANE + 4
COLUMN_WIDTH = (PAGE_WIDTH - 2 * MARGIN - (COLUMNS - 1) * GUTTER) / COLUMNS
BOX_WIDTH = COLUMN_WIDTH - LEFT - RIGHT
TEXT, HEADING, LEADING = 7.4, 8.2, 9.4
PADDING, GAP, INSET = 11.0, 13.0, 4.0
_WRITTEN = BOX_WIDTH - 2 * PADDING
ABOVE, BELOW = 3.5, 4.5


@dataclass(frozen=True, slots=True)
class Line:
    """A line of text in a box; `role` says how it is written, `top` where, from its box."""

    text: str
    role: str
    top: float


@dataclass(frozen=True, slots=True)
class Way:
    """An arc, and how it is drawn.

    Args:
        arc: the arc.
        row: y of the line of its source at which it leaves; None straight down from its foot.
        lane: which lane it runs in, from 0 inside; None for a connector.
        back: whether it goes back.
    """

    arc: Arc
    row: float | None
    lane: int | None
    back: bool


@dataclass(frozen=True, slots=True)
class Placed:
    """A box where it stands.

    Args:
        box: the box.
        depth: in how many groups it is.
        page: counted from 0.
        column: counted from 0, through all pages.
        x: left edge.
        y: upper edge.
        height: of the box.
        lines: what is written in it.
        ways: the arcs from it.
    """

    box: Box
    depth: int
    page: int
    column: int
    x: float
    y: float
    height: float
    lines: tuple[Line, ...]
    ways: tuple[Way, ...]


@dataclass(frozen=True, slots=True)
class Frame:
    """The part of a group's frame that is in one column.

    Args:
        group: the group.
        page: counted from 0.
        x: left edge.
        y: upper edge.
        width: of the frame.
        height: of the frame.
        label: what is written on its upper edge; empty where that is written further inside.
    """

    group: Group
    page: int
    x: float
    y: float
    width: float
    height: float
    label: str


@dataclass(frozen=True, slots=True)
class Layout:
    """A chart set out."""

    chart: Chart
    pages: int
    placed: tuple[Placed, ...]
    frames: tuple[Frame, ...]


@dataclass(slots=True)
class _Spot:
    """A box before its arcs are routed."""

    box: Box
    groups: tuple[Group, ...]
    lines: list[Line]
    rows: dict[str, float]
    height: float
    column: int = 0
    y: float = 0.0


def lay_out(chart: Chart) -> Layout:
    """Set a chart out."""
    arcs: dict[str, list[Arc]] = {}
    for arc in chart.arcs:
        arcs.setdefault(arc.source, []).append(arc)
    numbers = {box.key: box for box in chart.boxes}
    spots = [
        _spot(box, groups, arcs.get(box.key, []), numbers) for box, groups in _nested(chart.items)
    ]
    _into_columns(spots)
    by_key = {spot.box.key: spot for spot in spots}
    lanes = _Lanes(by_key)
    lanes.assign(chart.arcs)
    placed = tuple(_placed(spot, arcs.get(spot.box.key, []), lanes) for spot in spots)
    pages = 1 + max(spot.column for spot in spots) // COLUMNS
    return Layout(chart, pages, placed, tuple(_frames(spots)))


def _nested(
    items: Iterable[Item], groups: tuple[Group, ...] = ()
) -> Iterator[tuple[Box, tuple[Group, ...]]]:
    for item in items:
        if isinstance(item, Box):
            yield item, groups
        else:
            yield item.call, (*groups, item)
            yield from _nested(item.items, (*groups, item))


@dataclass(slots=True)
class _Writing:
    """The lines of a box as they come to stand below one another."""

    lines: list[Line] = field(default_factory=list)
    top: float = ABOVE

    def heading(self, text: str) -> None:
        for line in wrapped(text, _WRITTEN, HEADING * 1.08, 2):
            self.lines.append(Line(line, "heading", self.top))
            self.top += LEADING + 0.6

    def add(self, text: str, role: str, most: int = 1) -> None:
        for line in wrapped(text, _WRITTEN, TEXT, most):
            self.lines.append(Line(line, role, self.top))
            self.top += LEADING


def _spot(box: Box, groups: tuple[Group, ...], arcs: list[Arc], boxes: Mapping[str, Box]) -> _Spot:
    writing = _Writing()
    writing.heading(heading(box))
    _describe(box, writing)
    rows = {}
    for arc in arcs:
        rows[arc.outcome] = writing.top + LEADING / 2
        writing.add(_row(arc, boxes[arc.target]), "way")
    return _Spot(box, groups, writing.lines, rows, writing.top + BELOW)


def _describe(box: Box, writing: _Writing) -> None:
    writing.add(box.kind.upper() if box.form is Form.HOLD else box.kind, "kind", 2)
    if box.is_gate:
        writing.add("GATE: the job comes back here", "gate")
    for kind, text in box.notices:
        writing.add(f"{kind.upper()}. {text}", "notice", 2)
    for act in box.acts:
        writing.add(f"does {act}", "act", 2)
    if box.says:
        writing.add(f"“{box.says}”", "says", 2)
    if box.deviation:
        writing.add(f"deviation: {box.deviation}", "deviation")


def _row(arc: Arc, target: Box) -> str:
    outcome = "" if arc.outcome == "next" else f"{arc.outcome} "
    return f"{outcome}→ {heading(target)}"


def _into_columns(spots: list[_Spot]) -> None:
    column, y = 0, FIRST_TOP
    for spot in spots:
        if y + spot.height > COLUMN_BOTTOM and y > COLUMN_TOP + 1:
            column += 1
            y = FIRST_TOP if column < COLUMNS else COLUMN_TOP
        spot.column, spot.y = column, y
        y += spot.height + GAP


@dataclass(slots=True)
class _Lanes:
    """Which arc runs where."""

    spots: Mapping[str, _Spot]
    order: dict[str, int] = field(default_factory=dict)
    lanes: dict[Arc, int] = field(default_factory=dict)
    _taken: dict[tuple[int, bool, int], list[tuple[float, float, str]]] = field(
        default_factory=dict
    )

    def assign(self, arcs: Iterable[Arc]) -> None:
        """Give every arc that stays in its column a lane, the short ones first, inside."""
        self.order = {key: place for place, key in enumerate(self.spots)}
        inner = [arc for arc in arcs if self.stays(arc) and not self.follows(arc)]
        for arc in sorted(inner, key=lambda arc: abs(self._span(arc)[1] - self._span(arc)[0])):
            lane = self._free(arc)
            if lane is not None:
                self.lanes[arc] = lane

    def stays(self, arc: Arc) -> bool:
        return self.spots[arc.source].column == self.spots[arc.target].column

    def follows(self, arc: Arc) -> bool:
        return self.stays(arc) and self.order[arc.target] == self.order[arc.source] + 1

    def goes_back(self, arc: Arc) -> bool:
        return self.order[arc.target] <= self.order[arc.source]

    def _span(self, arc: Arc) -> tuple[float, float]:
        source, target = self.spots[arc.source], self.spots[arc.target]
        ends = (source.y + source.rows[arc.outcome], target.y + 8)
        return min(ends), max(ends)

    def _free(self, arc: Arc) -> int | None:
        low, high = self._span(arc)
        back, column = self.goes_back(arc), self.spots[arc.source].column
        for lane in range(LEFT_LANES if back else RIGHT_LANES):
            taken = self._taken.setdefault((column, back, lane), [])
            # Arcs to the same box may run together: they arrive at the same place.
            if all(high < a - 2 or b + 2 < low or to == arc.target for a, b, to in taken):
                taken.append((low, high, arc.target))
                return lane
        return None


def _placed(spot: _Spot, arcs: list[Arc], lanes: _Lanes) -> Placed:
    column = spot.column % COLUMNS
    ways = tuple(
        Way(
            arc,
            None if lanes.follows(arc) else spot.rows[arc.outcome],
            lanes.lanes.get(arc),
            lanes.goes_back(arc),
        )
        for arc in arcs
    )
    return Placed(
        box=spot.box,
        depth=len(spot.groups),
        page=spot.column // COLUMNS,
        column=spot.column,
        x=MARGIN + column * (COLUMN_WIDTH + GUTTER) + LEFT,
        y=spot.y,
        height=spot.height,
        lines=tuple(spot.lines),
        ways=ways,
    )


def _frames(spots: list[_Spot]) -> Iterator[Frame]:
    """For every group its frames, one in each column that it reaches; outer groups first."""
    extents: dict[tuple[str, int], tuple[Group, int, float, float]] = {}
    for spot in spots:
        for depth, group in enumerate(spot.groups):
            key = (group.call.key, spot.column)
            top = extents[key][2] if key in extents else spot.y
            extents[key] = (group, depth, top, spot.y + spot.height)
    for (call, column), (group, depth, top, bottom) in sorted(
        extents.items(), key=lambda entry: entry[1][1]
    ):
        left = MARGIN + column % COLUMNS * (COLUMN_WIDTH + GUTTER)
        inset = depth * INSET / 2
        first = next(spot for spot in spots if spot.column == column and group in spot.groups)
        label = group.title if first.box.key == call else _label_on(first, depth)
        yield Frame(
            group,
            column // COLUMNS,
            left + inset,
            top - 5.5 + inset / 2,
            COLUMN_WIDTH - 2 * inset,
            bottom - top + 10 - inset,
            label,
        )


def _label_on(first: _Spot, depth: int) -> str:
    """What to write over the column into which a group goes on: once, for all that do."""
    begun = [group for group in first.groups if group.call.key != first.box.key]
    if depth + 1 < len(begun):
        return ""
    return f"{', '.join(heading(group.call) for group in begun)} (goes on)"
