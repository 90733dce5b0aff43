"""Chromium with boards open in it, each in a profile of its own, as on a device of its own."""

from __future__ import annotations

import contextlib
import importlib.util
import shutil
from collections.abc import Iterator
from typing import Any

__all__ = ["Browser", "Page", "chromium", "lacking", "launched", "look_at", "seen", "until"]

_NAMES = ("chromium", "chromium-browser", "google-chrome")

Browser = Any
Page = Any
"""Playwright's own types are only there where it is installed."""

PATIENCE = 60_000
"""How long a browser may take on a machine that is busy [ms]."""

_KEEP_WHAT_IS_SHOWN = """
    window.seen = [];
    document.addEventListener("DOMContentLoaded", () => {
      const board = document.getElementById("board");
      if (board === null) return;
      new MutationObserver(() => window.seen.push({
        number: Number(board.firstElementChild.dataset.number),
        announcement: board.firstElementChild.dataset.announcement,
        at: performance.timeOrigin + performance.now(),
      })).observe(board, { childList: true });
    });
"""


def lacking() -> str:
    """What there is not for tests in a browser; empty where everything is there."""
    if importlib.util.find_spec("playwright") is None:
        return "no playwright (pip install playwright)"
    if not any(map(shutil.which, _NAMES)):
        return "no Chromium (on Debian: apt-get install chromium)"
    return ""


@contextlib.contextmanager
def chromium(*options: str) -> Iterator[Browser]:
    """The browser, without a window."""
    from playwright.sync_api import sync_playwright  # noqa: PLC0415 - it may be missing

    with (
        sync_playwright() as driver,
        contextlib.closing(launched(driver.chromium, *options)) as browser,
    ):
        yield browser


def launched(kind: Any, *options: str) -> Browser:
    """One more browser of a kind that Playwright drives, to be closed in the end."""
    found = next(filter(None, map(shutil.which, _NAMES)))
    return kind.launch(executable_path=found, args=list(options))


def look_at(
    browser: Browser,
    address: str,
    width: int = 390,
    height: int = 844,
    colours: str = "light",
) -> Page:
    """Open a board; what it shows from then on is kept, for `seen`.

    Args:
        browser: from `chromium`.
        address: of the board.
        width: of the screen, in CSS pixels; that of a phone.
        height: of the screen, in CSS pixels.
        colours: ``light`` or ``dark``.
    """
    context = browser.new_context(
        viewport={"width": width, "height": height},
        color_scheme=colours,
        reduced_motion="reduce",
        ignore_https_errors=False,
    )
    context.set_default_timeout(PATIENCE)
    page = context.new_page()
    page.add_init_script(_KEEP_WHAT_IS_SHOWN)
    page.goto(address)
    return page


def until(page: Page, number: int) -> None:
    """Wait until a board shows an update."""
    page.wait_for_function(
        "number => Number(document.querySelector('#board > *').dataset.number) === number",
        arg=number,
    )


def seen(page: Page) -> list[dict[str, Any]]:
    """The updates that a board has shown, as ``number``, ``announcement`` and ``at`` [ms]."""
    shown = page.evaluate("window.seen")
    assert isinstance(shown, list)
    return shown
