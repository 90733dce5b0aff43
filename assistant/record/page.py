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

from jinja2 import Environment, StrictUndefined, Template

from assistant.record.summary import Summary

__all__ = ["render"]


def render(summary: Summary, clips: Mapping[str, bytes]) -> str:
    """The page.

    Args:
        summary: the job.
        clips: name as in the journal → WAV bytes; the page says of a clip that is not among them
            that it is missing.
    """
    sounds = {name: _data_address(data) for name, data in clips.items()}
    return _template().render(job=summary, sounds=sounds)


@functools.cache
def _template() -> Template:
    environment = Environment(
        autoescape=True, undefined=StrictUndefined, trim_blocks=True, lstrip_blocks=True
    )
    environment.filters["moment"] = _moment
    text = resources.files(__package__).joinpath("record.html.jinja").read_text("utf-8")
    return environment.from_string(text)


def _data_address(wav: bytes) -> str:
    return f"data:audio/wav;base64,{base64.b64encode(wav).decode('ascii')}"


def _moment(time: str) -> str:
    """An entry's time for a reader: '2031-05-14 08:02:11 UTC'."""
    return f"{time[:10]} {time[11:19]} UTC"
