"""Whether devices, recogniser, disk and clock are fit for a job, and the place quiet enough.

Each module looks at one thing and answers with `Finding`s. All but `disk` and `clock` are pure:
they judge sound that was already recorded and replies that were already heard.
"""

from __future__ import annotations
