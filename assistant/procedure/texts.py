"""Names, references, and texts with ``{name.field}`` in them."""

from __future__ import annotations

import re
from collections.abc import Iterator

from assistant.procedure.fields import as_prose, as_scalar, as_text, quoted
from assistant.procedure.located import Located, ScalarNode
from assistant.procedure.model import Reference, Template
from assistant.procedure.problems import Place, refuse

__all__ = ["LONGEST_NAME", "NAME", "REFERENCE", "read_name", "read_reference", "read_template"]

NAME = re.compile(r"[a-z][a-z0-9]*(-[a-z0-9]+)*")
"""How names are written: lower case, digits, single hyphens."""

LONGEST_NAME = 40

REFERENCE = re.compile(rf"{NAME.pattern}(\.{NAME.pattern})*")
_BRACED = re.compile(r"\{([^{}]*)\}")


def read_name(value: Located, what: str) -> str:
    """A name: lower case letters, digits and hyphens."""
    text = as_text(value, what)
    if not NAME.fullmatch(text) or len(text) > LONGEST_NAME:
        refuse(
            value.place,
            f"{what} {quoted(text)} must be lower case letters, digits and hyphens, beginning "
            f"with a letter, at most {LONGEST_NAME} in all",
            "name",
        )
    return text


def _reference(text: str, place: Place) -> Reference:
    if not REFERENCE.fullmatch(text):
        refuse(place, f"{quoted(text)} is no name: write it like 'rotor.contacts'", "name")
    return Reference(tuple(text.split(".")), place)


def read_reference(value: Located, what: str) -> Reference:
    """A reference that stands alone, without braces."""
    return _reference(as_text(value, what), value.place)


def read_template(value: Located, what: str) -> Template:
    """A text; each ``{…}`` in it must be a reference."""
    scalar = as_scalar(value, what)
    text = as_prose(value, what)
    opened = _brace_places(scalar)
    pieces: list[str | Reference] = []
    for index, piece in enumerate(_BRACED.split(text)):
        if index % 2:
            pieces.append(_reference(piece.strip(), next(opened)))
        elif "{" in piece:
            refuse(next(opened), f"{what} has a '{{' without its '}}': close it", "text")
        elif "}" in piece:
            refuse(value.place, f"{what} has a '}}' without its '{{': remove it", "text")
        elif piece:
            pieces.append(piece)
    return Template(tuple(pieces), value.place)


def _brace_places(scalar: ScalarNode) -> Iterator[Place]:
    """Where each opening brace of a text stands; where the text begins if that is not known."""
    starts = [found.start() for found in re.finditer("{", scalar.written)]
    braces = scalar.text.count("{")
    if len(starts) != braces:
        # Escapes and comments can make the braces differ from those that were written.
        yield from [scalar.place] * braces
        return
    for start in starts:
        yield scalar.place.after(scalar.written[:start])
