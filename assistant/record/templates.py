"""The templates of this floor, and what they may use."""

from __future__ import annotations

import functools

from jinja2 import Environment, Template

from assistant.record.development import ROW
from assistant.record.line_numbers import lines_in_words
from assistant.record.moments import moment
from assistant.record.words import clean
from assistant.templates import templates_of

__all__ = ["template"]


@functools.cache
def template(name: str) -> Template:
    """The template in a file of this folder."""
    return _environment().get_template(name)


@functools.cache
def _environment() -> Environment:
    environment = templates_of("assistant.record")
    environment.filters |= {"moment": moment, "clean": clean, "lines": lines_in_words}
    environment.globals["row_height"] = ROW
    return environment
