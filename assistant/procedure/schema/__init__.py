"""JSON Schemas of procedure files and unit sheets, made from the tables that the readers use.

With them an editor completes and checks while a person types. They say what a single file says by
itself: which fields there are, what goes with what, and how a thing is written. What several places
say together (targets, names on every path, a contact development without contradiction) and whether
the phrase book has a word is told by the loader alone.

An editor sees a file after YAML has read it, and the loader before. So these are told by the loader
alone: how a number is spelled (``0x10``, ``.inf``, a contact ``05``), a key that stands twice, and
``true`` in place of ``yes``, since older YAML reads both as one. A word of a fixed list stands on
one line without spaces round it; the loader would trim it.

`fragments` says how texts, numbers and names are written, `descriptions` takes the words from the
docstrings of the model, `step_schema`, `procedure_schema` and `unit_schema` put it together.

Source: JSON Schema, draft 2020-12.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Mapping

from assistant.procedure.schema.fragments import Schema
from assistant.procedure.schema.procedure_schema import procedure_schema
from assistant.procedure.schema.unit_schema import unit_schema

__all__ = ["SCHEMA_FILES", "schema_text"]

SCHEMA_FILES: Mapping[str, Callable[[], Schema]] = {
    "procedure.schema.json": procedure_schema,
    "unit.schema.json": unit_schema,
}
"""The schemas by the names of their files."""


def schema_text(name: str) -> str:
    """The text of a schema file; KeyError where there is none of that name."""
    return json.dumps(SCHEMA_FILES[name](), indent=1, ensure_ascii=False) + "\n"
