"""A chart of the benchmark: the share understood by ratio, a line for each noise, as SVG."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from tests.bench.outcomes import Outcome

__all__ = ["chart", "understood_by_ratio"]

WIDTH, HEIGHT = 720, 420
LEFT, RIGHT, TOP, BOTTOM = 64, 150, 40, 52

LOOKS = (
    ("#1b4f72", ""),
    ("#b03a2e", "9 4"),
    ("#196f3d", "2 4"),
    ("#7d3c98", "9 4 2 4"),
    ("#9c640c", "5 3"),
)
"""Colour and dashes of each line: told apart without colour too."""

Lines = Mapping[str, Mapping[str, float]]
"""For each noise the share understood, 0 to 1, by ratio in words, best ratio first."""


def understood_by_ratio(outcomes: Sequence[Outcome], group: str, ear: str) -> Lines:
    """The lines of one group and recogniser; the clean cell begins each."""
    cells: dict[str, list[bool]] = {}
    for one in outcomes:
        if one.group == group and one.ear == ear:
            cells.setdefault(one.condition, []).append(one.verdict == "understood")
    shares = {condition: sum(right) / len(right) for condition, right in cells.items()}
    lines: dict[str, dict[str, float]] = {}
    for condition, share in shares.items():
        if condition.endswith(" dB"):
            noise, ratio, _ = condition.rsplit(" ", 2)
            clean = {"clean": shares["clean"]} if "clean" in shares else {}
            lines.setdefault(noise, clean)[f"{ratio} dB"] = share
    return lines


def chart(title: str, lines: Lines) -> str:
    """The drawing.

    Args:
        title: what is shown.
        lines: at least one, with at least two ratios.
    """
    ratios = list(dict.fromkeys(ratio for line in lines.values() for ratio in line))
    lowest = min(share for line in lines.values() for share in line.values())
    floor = int(10 * lowest) / 10
    parts = [
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {WIDTH} {HEIGHT}" '
        f'role="img" aria-label="{title}" font-family="sans-serif" font-size="13">',
        f'<rect width="{WIDTH}" height="{HEIGHT}" fill="#ffffff"/>',
        f'<text x="{LEFT}" y="22" font-size="15" font-weight="bold">{title}</text>',
        *_scale(floor),
        *_ratios(ratios),
        *_lines(lines, ratios, floor),
        "</svg>",
    ]
    return "\n".join(parts) + "\n"


def _across(number: int, count: int) -> float:
    return LEFT + (WIDTH - LEFT - RIGHT) * number / max(count - 1, 1)


def _up(share: float, floor: float) -> float:
    return HEIGHT - BOTTOM - (HEIGHT - TOP - BOTTOM) * (share - floor) / (1 - floor or 1)


def _scale(floor: float) -> Iterator[str]:
    for tenth in range(round(10 * floor), 11):
        y = _up(tenth / 10, floor)
        yield f'<path d="M{LEFT} {y:.1f}H{WIDTH - RIGHT}" stroke="#dddddd"/>'
        yield f'<text x="{LEFT - 8}" y="{y + 4:.1f}" text-anchor="end">{10 * tenth} %</text>'


def _ratios(ratios: Sequence[str]) -> Iterator[str]:
    for number, ratio in enumerate(ratios):
        x = _across(number, len(ratios))
        yield f'<text x="{x:.1f}" y="{HEIGHT - BOTTOM + 20}" text-anchor="middle">{ratio}</text>'
    middle = (LEFT + WIDTH - RIGHT) / 2
    place = f'x="{middle}" y="{HEIGHT - 10}" text-anchor="middle"'
    yield f"<text {place}>active speech over noise</text>"


def _lines(lines: Lines, ratios: Sequence[str], floor: float) -> Iterator[str]:
    for number, (noise, line) in enumerate(lines.items()):
        colour, dashes = LOOKS[number % len(LOOKS)]
        look = f'stroke="{colour}" stroke-width="2.5" stroke-dasharray="{dashes}" fill="none"'
        points = [
            f"{_across(ratios.index(ratio), len(ratios)):.1f},{_up(share, floor):.1f}"
            for ratio, share in line.items()
        ]
        yield f'<polyline points="{" ".join(points)}" {look}/>'
        y = TOP + 20 + 24 * number
        x = WIDTH - RIGHT + 16
        yield f'<path d="M{x} {y - 4}h34" {look}/>'
        yield f'<text x="{x + 42}" y="{y}" fill="{colour}">{noise}</text>'
