"""Where the sentences of a text end.

>>> BETWEEN_SENTENCES.split("Push stop. Is it 2.4 turns? Lock off.")
['Push stop.', 'Is it 2.4 turns?', 'Lock off.']
"""

from __future__ import annotations

import re

__all__ = ["BETWEEN_SENTENCES"]

BETWEEN_SENTENCES = re.compile(r"(?<=[.?!])\s+")
"""What stands between two sentences of a spoken text; within a number there is no space."""
