"""How texts, numbers, names and words are written, as pieces of a JSON Schema.

The loader keeps every scalar as text. An editor does not: for it ``07`` is a number and, by YAML
1.1, ``yes`` is true. So wherever the loader takes a text, numbers and truth values are let pass.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from typing import Any

from assistant.procedure.fields import DECIMAL
from assistant.procedure.texts import LONGEST_NAME, NAME, REFERENCE

__all__ = [
    "DIALECT",
    "NAME_KEY",
    "NUMBER",
    "REFERENCE_TEXT",
    "TEMPLATE",
    "TEXT",
    "Schema",
    "described",
    "list_of",
    "named",
    "number",
    "one_or_more",
    "quantity",
    "table",
    "table_of",
    "word",
]

Schema = dict[str, Any]

DIALECT = "https://json-schema.org/draft/2020-12/schema"

_TEXTS = ["string", "number", "boolean"]


def _like(pattern: str, message: str) -> Schema:
    """A pattern, and what editors say of a text that does not match it.

    The word is no part of JSON Schema, which passes over it; several editors know it.
    """
    return {"pattern": pattern, "patternErrorMessage": message}


TEXT: Schema = {"type": _TEXTS, **_like(r"\S", "Write a text.")}
"""Any text with something in it."""

NUMBER: Schema = {
    "type": ["number", "string"],
    **_like(rf"^\s*({DECIMAL.pattern})\s*$", "Write a number like 1.5."),
}

REFERENCE_TEXT: Schema = {
    "type": ["string", "boolean"],
    **_like(rf"^\s*{REFERENCE.pattern}\s*$", "Write the name of a value, like rotor.contacts."),
}
"""A value by its name, without braces."""

_BRACED = rf"\{{\s*{REFERENCE.pattern}\s*\}}"

TEMPLATE: Schema = {
    "type": _TEXTS,
    **_like(
        rf"^(?=[\s\S]*\S)([^{{}}]|{_BRACED})*$",
        "Write a text; a value in it stands in braces, like {rotor.contacts}.",
    ),
}
"""A text with values in braces."""

NAME_KEY: Schema = {"pattern": f"^{NAME.pattern}$", "maxLength": LONGEST_NAME}
"""A name where a mapping has it as its key."""

_YAML_1_1_TRUTH: Mapping[str, bool] = {"yes": True, "no": False, "off": False}


def named(*, but: str = "") -> Schema:
    """A name.

    Args:
        but: a regular expression of names that are taken.
    """
    other = rf"(?!({but})\s*$)" if but else ""
    length = rf"(?=[a-z0-9-]{{1,{LONGEST_NAME}}}\s*$)"
    pattern = rf"^\s*{other}{length}{NAME.pattern}\s*$"
    message = "Write a name of lower case letters, digits and hyphens that is not taken."
    return {"type": ["string", "boolean"], **_like(pattern, message)}


def word(words: Iterable[str]) -> Schema:
    """One of a few words."""
    known = list(words)
    read = [_YAML_1_1_TRUTH[word] for word in known if word in _YAML_1_1_TRUTH]
    return {"enum": [*known, *read]}


def number(
    *, above: float | None = None, least: float | None = None, most: float | None = None
) -> Schema:
    """A number within limits; one that is written in quotes is held to them by the loader."""
    limits = {"exclusiveMinimum": above, "minimum": least, "maximum": most}
    return NUMBER | {name: limit for name, limit in limits.items() if limit is not None}


def quantity(units: Iterable[str]) -> Schema:
    """A number with its unit; how large it may be is told by the loader."""
    either = "|".join(re.escape(unit).replace(r"\ ", r"\s+") for unit in units)
    pattern = rf"^\s*({DECIMAL.pattern})\s+({either})\s*$"
    return {"type": "string", **_like(pattern, "Write a number with its unit, like 38 turns.")}


def list_of(item: Schema, **limits: object) -> Schema:
    """A list of such items."""
    return {"type": "array", "items": item, **limits}


def one_or_more(item: Schema) -> Schema:
    """A single item, or a list of them."""
    return {"anyOf": [item, list_of(item)]}


def table(fields: Mapping[str, Schema], required: Iterable[str] = ()) -> Schema:
    """Lines 'field: value' with these fields and no others."""
    return {
        "type": "object",
        "properties": dict(fields),
        "required": list(required),
        "additionalProperties": False,
    }


def table_of(value: Schema, keys: Schema | None = None) -> Schema:
    """Lines 'name: value' with names of the writer's own."""
    named_by = {} if keys is None else {"propertyNames": keys}
    return {"type": "object", **named_by, "additionalProperties": value}


def described(schema: Schema, description: str) -> Schema:
    """The same with a description; an empty one adds nothing."""
    return {"description": description, **schema} if description else schema
