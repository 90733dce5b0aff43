"""Skeletons of new procedures and parts: whole files that lint clean and run."""

from __future__ import annotations

from importlib import resources

__all__ = ["skeleton"]

_NAME, _TITLE, _SCHEMA = "new-name", "New title", "procedure.schema.json"


def skeleton(kind: str, name: str, schema: str) -> str:
    """The text of a new file.

    Args:
        kind: ``procedure`` or ``part``.
        name: of the new file; the title is made of it.
        schema: path to the JSON Schema of procedures, as seen from the file's folder.
    """
    text = resources.files(__package__).joinpath(f"{kind}.yaml").read_text("utf-8")
    title = name.replace("-", " ").capitalize()
    return text.replace(_SCHEMA, schema).replace(_NAME, name).replace(_TITLE, title)
