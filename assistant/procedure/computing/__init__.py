"""What a procedure can have computed, in the words of a procedure.

Each module holds the computations of one subject: `direction` for which way to turn a shaft,
`readings` for comparing what was read with what was drawn, `sweep` for finding every trip by one
slow stroke, `trip` for proving them, `speed` for how fast a shaft was turned, `electrical` for
lamps and the stroke, `papers` for dates and people, `limits` for a number between two others,
`elapsed` for the time between two moments. `computation` says what a computation is.

A computation never raises for inputs of its kinds: what cannot be computed is an outcome of its
own, and the step says where to go then.
"""

from __future__ import annotations

from collections.abc import Mapping

from assistant.procedure.computing.computation import Computation, Finding, Inputs
from assistant.procedure.computing.direction import DIRECTION
from assistant.procedure.computing.elapsed import ELAPSED
from assistant.procedure.computing.electrical import ELECTRICAL
from assistant.procedure.computing.limits import LIMITS
from assistant.procedure.computing.papers import PAPERS
from assistant.procedure.computing.readings import READINGS
from assistant.procedure.computing.speed import SPEED
from assistant.procedure.computing.sweep import SWEEP
from assistant.procedure.computing.trip import TRIP

__all__ = ["COMPUTATIONS", "Computation", "Finding", "Inputs"]

COMPUTATIONS: Mapping[str, Computation] = {
    **DIRECTION,
    **READINGS,
    **SWEEP,
    **TRIP,
    **SPEED,
    **ELECTRICAL,
    **PAPERS,
    **LIMITS,
    **ELAPSED,
}
"""Every computation, by the name that a step uses."""
