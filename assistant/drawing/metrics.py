"""How wide a text comes out, without a browser to ask.

The widths are those of Helvetica, to which Arial and Liberation Sans were made metrically equal;
they are given for groups of characters, rounded up, in thousandths of the size of the letters.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping

__all__ = ["width_of", "wrapped"]

_GROUPS: Mapping[int, str] = {
    230: "ijl'|",
    280: "ftI .,:;/![]\\`",
    335: 'r-(){}“”"',
    500: "ckszvxyJ",
    560: "abdeghnopqu0123456789?_L",
    600: "+=<>~·→",
    670: "FTZABEKPSVXY&",
    730: "CDHNRUw",
    780: "GOQ",
    840: "mM",
    950: "W%@…—",
}

_WIDTHS = {character: width for width, group in _GROUPS.items() for character in group}

_OTHER = 700
"""Of any other character: more than most letters have."""

_BOLD = 1.08
"""Bold letters are wider by so much at most, on the average of a text."""


def width_of(text: str, size: float, *, bold: bool = False) -> float:
    """The width of a text in the unit of its size, rather too much than too little.

    >>> width_of("limit", 10) < width_of("WARNING", 10)
    True
    """
    width = sum(_WIDTHS.get(character, _OTHER) for character in text) * size / 1000
    return width * _BOLD if bold else width


def wrapped(text: str, width: float, size: float, most: int) -> tuple[str, ...]:
    """The text in at most so many lines, the last cut with an ellipsis where more was to come.

    >>> wrapped("one two three", 1000, 10, 2)
    ('one two three',)
    """
    lines = list(_lines(text, width, size))
    if len(lines) <= most:
        return tuple(lines)
    kept = lines[:most]
    last = kept[-1]
    while width_of(f"{last} …", size) > width and " " in last:
        last = last.rpartition(" ")[0]
    return (*kept[:-1], f"{last.rstrip('.,;:')} …")


def _lines(text: str, width: float, size: float) -> Iterator[str]:
    line = ""
    for word in text.split():
        longer = f"{line} {word}" if line else word
        if width_of(longer, size) <= width:
            line = longer
            continue
        if line:
            yield line
        line = word
        while width_of(line, size) > width and len(line) > 1:
            # A name without a gap that is too long for a line is cut where the line ends.
            cut = _cut(line, width, size)
            yield line[:cut]
            line = line[cut:]
    if line:
        yield line


def _cut(word: str, width: float, size: float) -> int:
    return next(n for n in range(len(word), 0, -1) if n == 1 or width_of(word[:n], size) <= width)
