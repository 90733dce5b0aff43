"""The sheet floor: a procedure on paper, for the day the program is not there.

The sheet says the same as the voice. Its sentences come from the same templates by the same code
(`session.names`, `session.wording`, `session.restoring`); what is only known during the job is a
blank that names the step where it is found (`texts`). What the program works out in a job is a
table to work it out by hand, filled in by the very computation where the unit is known (`by_hand`).

`entries` makes of each step what stands on paper: `answers` the blanks, `loops` how often a step
may come, `supply` where the motor's supply may be on. Every step keeps the number that it has in
the program, so that sheet, diagram and transcript speak of the same step; with a unit, the steps
that its sheet rules out are left away. `page` writes it as one HTML file.
"""

from __future__ import annotations

from assistant.sheet.entries import Sheet, lay_out
from assistant.sheet.page import render

__all__ = ["Sheet", "lay_out", "render"]
