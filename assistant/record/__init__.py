"""The record of a job: what the journal holds, put before a reader.

`summary` draws it together from the entries and the unit sheet, `headline` says what is open,
`page` writes it as one HTML file, `plain` as JSON, and `readings` the values as CSV.
"""

from __future__ import annotations

from assistant.record.page import render
from assistant.record.summary import Summary, summarise

__all__ = ["Summary", "render", "summarise"]
