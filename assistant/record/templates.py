"""The templates of this floor, with every text escaped."""

from __future__ import annotations

import functools
from importlib import resources

from jinja2 import Environment, FunctionLoader, StrictUndefined, Template

from assistant.record.development import ROW
from assistant.record.moments import moment
from assistant.record.words import clean

__all__ = ["template"]


@functools.cache
def template(name: str) -> Template:
    """The template in a file of this folder."""
    return _environment().get_template(name)


@functools.cache
def _environment() -> Environment:
    environment = Environment(
        loader=FunctionLoader(_source),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    environment.filters |= {"moment": moment, "clean": clean}
    environment.globals["row_height"] = ROW
    return environment


def _source(name: str) -> str:
    return resources.files(__package__).joinpath(name).read_text("utf-8")
