"""The JSON Schema of a procedure or a part."""

from __future__ import annotations

from assistant.procedure.model import Procedure
from assistant.procedure.read_file import INPUT_KINDS
from assistant.procedure.rules.rule import Level
from assistant.procedure.rules.settings import OFF
from assistant.procedure.schema.descriptions import arguments_of, summary_of
from assistant.procedure.schema.fragments import (
    DIALECT,
    NAME_KEY,
    TEXT,
    Schema,
    described,
    list_of,
    named,
    table,
    table_of,
    word,
)
from assistant.procedure.schema.step_schema import UNIT_NAMES, step_definitions
from assistant.procedure.values import PAPER_KINDS

__all__ = ["procedure_schema"]


def procedure_schema() -> Schema:
    """The schema of a procedure file."""
    told = arguments_of(Procedure)
    free_key: Schema = {**NAME_KEY, "not": {"const": "unit"}}
    return {
        "$schema": DIALECT,
        "title": "A procedure, or a part that procedures call",
        "description": summary_of(Procedure),
        **table(
            {
                "procedure": described(named(), told["name"]),
                "part": described(named(), told["name"]),
                "title": described(TEXT, told["title"]),
                "revision": described(TEXT, told["revision"]),
                "about": described(TEXT, told["about"]),
                "inputs": described(table_of(word(sorted(INPUT_KINDS)), free_key), told["inputs"]),
                "returns": described(
                    list_of(named(but="next"), minItems=2, uniqueItems=True), told["returns"]
                ),
                "papers": described(table_of(_paper(), free_key), told["papers"]),
                "parts": described(table_of(TEXT, NAME_KEY), told["parts"]),
                "lint": described(table_of(_rule_settings()), told["lint"]),
                "steps": described(list_of({"$ref": "#/$defs/step"}, minItems=1), told["steps"]),
            },
            required=["title", "revision", "about", "steps"],
        ),
        "oneOf": [{"required": ["procedure"]}, {"required": ["part"]}],
        "dependentSchemas": {
            "part": {"properties": {"papers": False}},
            "procedure": {"properties": {"inputs": False, "returns": False}},
        },
        "$defs": step_definitions(),
    }


def _paper() -> Schema:
    """Letters or a day, or a number with its unit."""
    number = table({"number": word(UNIT_NAMES)}, required=["number"])
    return {"anyOf": [word(sorted(PAPER_KINDS)), number]}


def _rule_settings() -> Schema:
    """What a rule is set to; which rules and settings there are is told by the linter."""
    return {"anyOf": [word([OFF, *Level]), {"type": "object"}]}
