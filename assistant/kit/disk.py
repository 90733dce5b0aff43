"""Whether the disk has room for a job."""

from __future__ import annotations

import shutil
from pathlib import Path

from assistant.kit.findings import Finding, Fitness

__all__ = ["check_disk"]

A_JOB = 20.0
"""Room for one job, its recordings and its record with margin [MB]; the demo's job takes 8.5."""

PLENTY = 10 * A_JOB


def check_disk(folder: Path) -> Finding:
    """Judge the room on the disk that holds a folder, or would hold it once it is made."""
    whole = folder.absolute()
    try:
        there = next(one for one in (whole, *whole.parents) if one.exists())
        free = shutil.disk_usage(there).free / 1e6
    except OSError:  # a folder that may not be searched, or too long a name
        says = "The folder for the jobs cannot be opened. Name one that you may open."
        return Finding("the disk", Fitness.UNFIT, says)
    if free < A_JOB:
        says = f"The disk has only {free:.0f} megabytes left. Free {A_JOB:.0f}, or use another."
        return Finding("the disk", Fitness.UNFIT, says)
    if free < PLENTY:
        says = f"The disk has {free:.0f} megabytes left: enough for this job. Free some soon."
        return Finding("the disk", Fitness.DOUBTFUL, says)
    return Finding("the disk", Fitness.FIT, "The disk has room.")
