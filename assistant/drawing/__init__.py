"""The drawing floor: the state diagram of a procedure, for whoever writes it.

`chart` says what is in a diagram, without a word on how it looks: boxes, arcs and groups, taken
from the joined program. A group is a call of a part, with the calls inside it nested; that is what
a phase is here, because nothing else in a program says where one thing ends and the next begins (a
comment in a file is no data). The order of the boxes is the order of speech. `view` decides which
calls are opened: none, so that the flagship fits on two pages, one part, or all.

`svg` draws a chart (`layout` sets it out, `metrics` measures its texts, `outline` gives each kind
of box its form), `mermaid` and `dot` write its source for other tools.

The layout is our own. Layered layouts (Sugiyama, Graphviz's dot) move boxes about to have fewer
crossings, so that at 150 steps the order of speech is lost and the picture is wider than any page;
and a library that does it without a system binary would be one more dependency for that. One column
in the order of speech reads like the job: most steps go on to the next, and what does not is an arc
at the side, or, where it leaves the column, a ring with the number of the step that it leads to.
"""

from __future__ import annotations

from assistant.drawing.chart import Chart
from assistant.drawing.dot import to_dot
from assistant.drawing.mermaid import to_mermaid
from assistant.drawing.svg import to_svg
from assistant.drawing.view import NoSuchPart, main_file, one_part, part_file, whole

__all__ = [
    "Chart",
    "NoSuchPart",
    "main_file",
    "one_part",
    "part_file",
    "to_dot",
    "to_mermaid",
    "to_svg",
    "whole",
]
