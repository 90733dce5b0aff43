"""The journal of a job: append-only, chained by hashes, and the clips that belong to it.

Theory of operation: a job folder holds ``journal.jsonl``, one entry a line, and ``clips/``. Each
line is canonical JSON and carries the SHA-256 of the line before, so that a line changed, dropped
or moved afterwards no longer fits its neighbours. `entry` is the form of a line, `chain` judges
lines without touching a disk, `store` writes them so that they survive a power cut, `clips` keeps
the sound.

Whoever can write the file can also chain it anew. So one hash over all lines, the root of their
`tree`, is to be kept where the file is not; `root_words` are four words for it, to be written on
paper, and `kept_root` compares a journal with what was kept.
"""

from __future__ import annotations

from assistant.journal.chain import Level, Problem
from assistant.journal.entry import Entry, opening, timestamp
from assistant.journal.store import Journal, JournalError

__all__ = ["Entry", "Journal", "JournalError", "Level", "Problem", "opening", "timestamp"]
