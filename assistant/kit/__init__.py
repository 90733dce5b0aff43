"""Whether devices, recogniser, disk and clock are fit for a job, and the place quiet enough.

Each module looks at one thing and answers with a `Finding`. They are pure: they judge sound that
was already recorded, replies that were heard and a moment that they are given. Only `disk` looks at
the disk, `expectation.measured` reads a table, and `check_up` drives voice, microphone and
loudspeaker.
"""

from __future__ import annotations
