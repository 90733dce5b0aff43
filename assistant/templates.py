"""Templates of pages and pictures: every text escaped, and a name that means nothing an error."""

from __future__ import annotations

from importlib import resources

from jinja2 import Environment, FunctionLoader, StrictUndefined

__all__ = ["templates_of"]


def templates_of(package: str) -> Environment:
    """The templates that lie in the folder of a package."""
    folder = resources.files(package)
    return Environment(
        loader=FunctionLoader(lambda name: folder.joinpath(name).read_text("utf-8")),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
