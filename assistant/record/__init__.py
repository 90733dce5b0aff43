"""The record of a job: what the journal holds, put before a reader.

`summary` draws it together from the entries, `page` writes it as one HTML file.
"""

from __future__ import annotations

from assistant.record.page import render
from assistant.record.summary import Summary, summarise

__all__ = ["Summary", "render", "summarise"]
