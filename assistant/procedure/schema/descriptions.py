"""The words for the schemas' descriptions, from the docstrings of the model."""

from __future__ import annotations

import inspect
import re

__all__ = ["arguments_of", "summary_of"]

_ARGUMENT = re.compile(r"^    (\w+): (.*(?:\n {8}.*)*)", re.MULTILINE)


def summary_of(thing: object) -> str:
    """The first paragraph of a docstring, on one line.

    >>> from assistant.procedure.model import Hold
    >>> summary_of(Hold)
    "Stop safely, say why, and wait for 'carry on'."
    """
    return " ".join((inspect.getdoc(thing) or "").partition("\n\n")[0].split())


def arguments_of(thing: object) -> dict[str, str]:
    """What a docstring says of each argument.

    >>> from assistant.procedure.model import Ask
    >>> arguments_of(Ask)["expect"]
    'What a spelled answer must equal; gives the outcomes match and mismatch.'
    """
    _, _, told = (inspect.getdoc(thing) or "").partition("Args:\n")
    return {name: _sentence(text) for name, text in _ARGUMENT.findall(told)}


def _sentence(text: str) -> str:
    line = " ".join(text.split())
    return line[:1].upper() + line[1:]
