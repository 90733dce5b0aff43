"""The rehearsal floor: a procedure played by its writer on a simulated actuator.

No record is kept here, and nothing is printed or read from a keyboard: the command does that.

`bench` holds what is rehearsed: program, unit, papers, and how the rotors are found. A `rehearsal`
is one job on it: a session, a simulated technician who does on the rig what is asked, and a log of
everything that was said and done. `truth` tells what the technician would answer, `handling` reads
what the writer does on the rig instead, `mishaps` which errors can be made, and `picture` shows how
the rig stands.

`following` plays a log again, through the same session, on a changed program or with more after it:
so a reload keeps its place, and `jumping` comes to a step by playing what lies before it.

`departures` are what can go otherwise in a job, and `playing` plays one with them; `covering` looks
for jobs that take every way on of every step, and `routes` tells what they come to.
"""

from __future__ import annotations
