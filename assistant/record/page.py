"""The record as one HTML file.

Self-contained: no script, no address outside the file, clips as data. Every text from speech, from
a procedure or from a unit sheet goes through Jinja's escaping, and the page forbids by its own
content security policy whatever is not style or sound inside the file.
"""

from __future__ import annotations

import base64
from collections.abc import Mapping

from assistant.record.headline import five_lines, open_points
from assistant.record.stands import how_it_stands
from assistant.record.summary import Summary
from assistant.record.templates import template

__all__ = ["render"]


def render(summary: Summary, clips: Mapping[str, bytes] | None) -> str:
    """The page.

    Args:
        summary: the job.
        clips: name as in the journal → WAV bytes; the page says of a clip that is not among them
            that it is missing. None leaves all sound out, and the page names the clips.
    """
    sounds = {name: _data_address(data) for name, data in (clips or {}).items()}
    return template("record.html.jinja").render(
        job=summary,
        lines=five_lines(summary),
        points=open_points(summary),
        stands=how_it_stands(summary),
        sounds=sounds,
        silent=clips is None,
    )


def _data_address(wav: bytes) -> str:
    return f"data:audio/wav;base64,{base64.b64encode(wav).decode('ascii')}"
