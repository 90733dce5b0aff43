"""What was found of the equipment, and what it comes to."""

from __future__ import annotations

import enum
from collections.abc import Sequence
from dataclasses import dataclass

__all__ = ["Finding", "Fitness", "conclusion"]


class Fitness(enum.StrEnum):
    """How fit one thing is."""

    FIT = "fit"
    DOUBTFUL = "doubtful"
    UNFIT = "unfit"


@dataclass(frozen=True, slots=True)
class Finding:
    """What was found of one thing.

    Args:
        subject: the thing, as it is spoken: "the microphone".
        fitness: how fit it is.
        says: a sentence or two, to be spoken: what was found and, unless it is fit, what to do.
    """

    subject: str
    fitness: Fitness
    says: str


def conclusion(findings: Sequence[Finding]) -> Finding:
    """Whether to start, and what stands against it; as fit as the worst that was found.

    >>> conclusion([Finding("the disk", Fitness.FIT, "Free.")]).says
    'Fit to start.'
    >>> conclusion([Finding("the disk", Fitness.UNFIT, "The disk is full.")]).says
    'Do not start with this. It is unfit: the disk.'
    """
    of = {
        fitness: [one.subject for one in findings if one.fitness is fitness] for fitness in Fitness
    }
    if of[Fitness.UNFIT]:
        says = f"Do not start with this. It is unfit: {', '.join(of[Fitness.UNFIT])}."
        return Finding("the whole", Fitness.UNFIT, says)
    if of[Fitness.DOUBTFUL]:
        says = f"You can start. Be careful with {', '.join(of[Fitness.DOUBTFUL])}."
        return Finding("the whole", Fitness.DOUBTFUL, says)
    return Finding("the whole", Fitness.FIT, "Fit to start.")
