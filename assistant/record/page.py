"""The record as one HTML file.

Self-contained: no script, no address outside the file, clips as data. Every text from speech, from
a procedure or from a unit sheet goes through Jinja's escaping, and the page forbids by its own
content security policy whatever is not style or sound inside the file.
"""

from __future__ import annotations

import base64
import functools
from collections.abc import Mapping
from importlib import resources

from jinja2 import Environment, FunctionLoader, StrictUndefined, Template

from assistant.record.development import ROW
from assistant.record.headline import five_lines, open_points
from assistant.record.moments import moment
from assistant.record.summary import Summary
from assistant.record.words import clean

__all__ = ["render"]


def render(summary: Summary, clips: Mapping[str, bytes] | None) -> str:
    """The page.

    Args:
        summary: the job.
        clips: name as in the journal → WAV bytes; the page says of a clip that is not among them
            that it is missing. None leaves all sound out, and the page names the clips.
    """
    sounds = {name: _data_address(data) for name, data in (clips or {}).items()}
    return _template().render(
        job=summary,
        lines=five_lines(summary),
        points=open_points(summary),
        sounds=sounds,
        silent=clips is None,
    )


@functools.cache
def _template() -> Template:
    environment = Environment(
        loader=FunctionLoader(_source),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    environment.filters |= {"moment": moment, "clean": clean}
    environment.globals["row_height"] = ROW
    return environment.get_template("record.html.jinja")


def _source(name: str) -> str:
    return resources.files(__package__).joinpath(name).read_text("utf-8")


def _data_address(wav: bytes) -> str:
    return f"data:audio/wav;base64,{base64.b64encode(wav).decode('ascii')}"
