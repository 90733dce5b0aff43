"""A view as HTML: the whole page once, and the part of it that changes, for each update.

Every text goes through Jinja's escaping. The page needs nothing from outside, and its content
security policy (see `gate`) lets it run its own script and style only.
"""

from __future__ import annotations

import functools
from importlib import resources
from typing import Any

from jinja2 import Environment

from assistant.board.contact_table import rows_of
from assistant.board.view import NOT_SHOWN, Situation, Standing, View
from assistant.session import wording
from assistant.templates import templates_of
from assistant.trade.contacts import ContactState
from assistant.trade.motion import Rotation

__all__ = ["announcement", "render_broken", "render_page", "render_view", "script", "style"]


def render_page(view: View, number: int, presses: bool) -> str:
    """The page as it is first shown.

    Args:
        view: what it shows.
        number: of the update that the view is.
        presses: whether answers can be pressed.
    """
    names = _names(view, number, presses)
    return _environment().get_template("page.html.jinja").render(names)


def render_view(view: View, number: int, presses: bool) -> str:
    """The part of the page that changes; the arguments are those of `render_page`."""
    names = _names(view, number, presses)
    return _environment().get_template("view.html.jinja").render(names)


def render_broken(number: int) -> str:
    """The same where a view cannot be shown."""
    return _environment().get_template("broken.html.jinja").render(number=number, text=NOT_SHOWN)


def script() -> bytes:
    """The page's script."""
    return resources.files(__package__).joinpath("board.js").read_bytes()


def style() -> bytes:
    """The page's style."""
    return resources.files(__package__).joinpath("board.css").read_bytes()


def announcement(view: View) -> str:
    """What a screen reader is told of a view: what has to be answered now."""
    if view.last_words:
        return " ".join(view.last_words)
    if view.failure:
        return wording.STANDS_STILL
    match view.situation:
        case Situation.HELD if not view.aside:
            return f"On hold. {view.hold}"
        case Situation.CONFIRMING if view.heard is not None:
            return f"Heard: {view.heard.meaning}. Is it right?"
        case Situation.DONE:
            return " ".join((*view.instructions, *view.words))
    return " ".join((*view.notices, view.reply or " ".join(_questions(view))))


def _questions(view: View) -> tuple[str, ...]:
    return view.aside or view.instructions


def _names(view: View, number: int, presses: bool) -> dict[str, Any]:
    return {
        "view": view,
        "number": number,
        "presses": presses,
        "announcement": announcement(view),
        "questions": _questions(view),
        "rows": tuple(rows_of(view)),
    }


_SIZES = ((32, "huge"), (72, "large"), (150, "middle"))
"""Characters up to which a text is set in this size; common practice, no source: what fits."""


def _size(*texts: str) -> str:
    """How large a text can be set so that it fits on a screen with all that belongs to it."""
    length = sum(map(len, texts))
    return next((name for most, name in _SIZES if length <= most), "small")


@functools.cache
def _environment() -> Environment:
    environment = templates_of("assistant.board")
    environment.filters["percent"] = "{:.1f} %".format
    environment.globals |= {
        "size": _size,
        "Situation": Situation,
        "Standing": Standing,
        "CLOSED": ContactState.CLOSED,
        "CLOCKWISE": Rotation.CLOCKWISE,
        "ON_HOLD": wording.ON_HOLD.partition(". ")[2],
        "STANDS_STILL": wording.STANDS_STILL.partition(". ")[2],
    }
    return environment
