"""The outline of each kind of box: told apart by form, also in black and white.

After the symbols of ISO 5807 where it has one (from memory): a parallelogram for what comes in, a
hexagon for a decision, cut upper corners for a loop limit, doubled sides for what is written
elsewhere, round ends for a terminator. A hold is an octagon, as a stop sign is.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping

from assistant.drawing.chart import Form

__all__ = ["SLANT", "outline"]

SLANT = 6.0
"""Points by which an outline leans or is cut in at its sides."""

Path = Callable[[float, float, float, float], str]


def outline(form: Form, x: float, y: float, width: float, height: float) -> str:
    """The path of an outline, in the unit of the arguments."""
    return _OUTLINES[form](x, y, width, height)


def _polygon(*points: tuple[float, float]) -> str:
    return f"M{' L'.join(f'{x:.1f},{y:.1f}' for x, y in points)} Z"


def _box(x: float, y: float, w: float, h: float) -> str:
    return _polygon((x, y), (x + w, y), (x + w, y + h), (x, y + h))


def _leaning(x: float, y: float, w: float, h: float) -> str:
    return _polygon((x + SLANT, y), (x + w, y), (x + w - SLANT, y + h), (x, y + h))


def _folded(x: float, y: float, w: float, h: float) -> str:
    """A box with a line inside its left edge and one inside its upper one: internal storage."""
    inner = f"M{x + 4:.1f},{y:.1f} v{h:.1f} M{x:.1f},{y + 2:.1f} h{w:.1f}"
    return f"{_box(x, y, w, h)} {inner}"


def _hexagon(x: float, y: float, w: float, h: float) -> str:
    middle, cut = y + h / 2, SLANT + 2
    return _polygon(
        (x + cut, y), (x + w - cut, y), (x + w, middle), (x + w - cut, y + h), (x + cut, y + h),
        (x, middle),
    )  # fmt: skip


def _loop_limit(x: float, y: float, w: float, h: float) -> str:
    cut = SLANT + 2
    return _polygon(
        (x + cut, y), (x + w - cut, y), (x + w, y + cut), (x + w, y + h), (x, y + h), (x, y + cut)
    )


def _octagon(x: float, y: float, w: float, h: float) -> str:
    cut = SLANT
    return _polygon(
        (x + cut, y), (x + w - cut, y), (x + w, y + cut), (x + w, y + h - cut),
        (x + w - cut, y + h), (x + cut, y + h), (x, y + h - cut), (x, y + cut),
    )  # fmt: skip


def _doubled(x: float, y: float, w: float, h: float) -> str:
    sides = f"M{x + 4:.1f},{y:.1f} v{h:.1f} M{x + w - 4:.1f},{y:.1f} v{h:.1f}"
    return f"{_box(x, y, w, h)} {sides}"


def _rounded(x: float, y: float, w: float, h: float) -> str:
    r = min(h / 2, 12.0)
    return (
        f"M{x + r:.1f},{y:.1f} h{w - 2 * r:.1f} a{r:.1f},{r:.1f} 0 0 1 {r:.1f},{r:.1f} "
        f"v{h - 2 * r:.1f} a{r:.1f},{r:.1f} 0 0 1 {-r:.1f},{r:.1f} h{2 * r - w:.1f} "
        f"a{r:.1f},{r:.1f} 0 0 1 {-r:.1f},{-r:.1f} v{2 * r - h:.1f} "
        f"a{r:.1f},{r:.1f} 0 0 1 {r:.1f},{-r:.1f} Z"
    )


_OUTLINES: Mapping[Form, Path] = {
    Form.TELL: _box,
    Form.ASK: _leaning,
    Form.COMPUTE: _folded,
    Form.BRANCH: _hexagon,
    Form.REPEAT: _loop_limit,
    Form.HOLD: _octagon,
    Form.CALL: _doubled,
    Form.END: _rounded,
    Form.RETURN: _rounded,
}
