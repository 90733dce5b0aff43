"""The record as plain JSON, for another program; ``record.schema.json`` says what is in it."""

from __future__ import annotations

import json
from dataclasses import asdict, is_dataclass
from importlib import resources
from typing import Any

from assistant.record.headline import five_lines, open_points
from assistant.record.stands import how_it_stands
from assistant.record.summary import Summary

__all__ = ["FORMAT", "schema", "to_json"]

FORMAT = "gloveside-record/1"
"""What the file names as its format; another number is another format."""

_NOT_FOR_PROGRAMS = frozenset({"development"})
"""Where a picture puts its lines is no part of what a record says."""


def to_json(summary: Summary) -> str:
    """The summary as JSON, two spaces deep, ending in a newline."""
    told = {"format": FORMAT, "lines": _plain(five_lines(summary)), "open": open_points(summary)}
    told["stands"] = how_it_stands(summary)
    for name, value in asdict(summary).items():
        if name not in _NOT_FOR_PROGRAMS:
            told[name] = value
    told["lamps"] = [{**_plain(zone), "agrees": zone.agrees} for zone in summary.lamps]
    return json.dumps(told, ensure_ascii=False, indent=2, allow_nan=False) + "\n"


def schema() -> dict[str, Any]:
    """The JSON Schema (draft 2020-12) of what `to_json` writes."""
    text = resources.files(__package__).joinpath("record.schema.json").read_text("utf-8")
    loaded: dict[str, Any] = json.loads(text)
    return loaded


def _plain(value: Any) -> Any:
    if is_dataclass(value) and not isinstance(value, type):
        return asdict(value)
    return [_plain(item) for item in value]
