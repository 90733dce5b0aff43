"""Who may see a board: what every request is held against before anything is answered.

The page is for whoever was given its whole address, with the random word in it. A page of another
site must not reach it through a visitor's browser: neither under its own origin, nor under a host
name that it lets point here (DNS rebinding).
"""

from __future__ import annotations

import secrets
from collections.abc import Mapping
from dataclasses import dataclass, field

__all__ = ["HEADERS", "Gate", "new_token"]

_TOKEN_BYTES = 16
"""128 bits: nobody guesses them, and a person can still copy the 22 characters."""

HEADERS: Mapping[str, str] = {
    "Content-Security-Policy": (
        "default-src 'none'; script-src 'self'; style-src 'self'; connect-src 'self'; "
        "img-src data:; base-uri 'none'; form-action 'none'; frame-ancestors 'none'"
    ),
    "Cache-Control": "no-store",
    "Referrer-Policy": "no-referrer",
    "X-Content-Type-Options": "nosniff",
    "Cross-Origin-Resource-Policy": "same-origin",
    "Cross-Origin-Opener-Policy": "same-origin",
}
"""Sent with every answer; no other origin is ever allowed (no CORS)."""


def new_token() -> str:
    """A random word for one run of the program, fit for an address."""
    return secrets.token_urlsafe(_TOKEN_BYTES)


@dataclass(frozen=True, slots=True)
class Gate:
    """The one way in.

    Args:
        origin: scheme, address and port under which the board is reached.
        token: the random word.
    """

    origin: str
    token: str = field(repr=False)

    @property
    def address(self) -> str:
        """What is typed or opened to see the board."""
        return f"{self.origin}/{self.token}/"

    def refusal(self, method: str, path: str, headers: Mapping[str, str]) -> str | None:
        """Why a request is refused, in a word; None where it may pass.

        Args:
            method: of HTTP.
            path: as it was asked for.
            headers: by their names in lower case.
        """
        if headers.get("host", "") != self.origin.partition("://")[2]:
            return "host"
        origin = headers.get("origin")
        if origin is None and method not in ("GET", "HEAD"):
            return "origin"
        if origin not in (None, self.origin):
            return "origin"
        if _is_of_another_site(headers):
            return "site"
        told = path.split("/")[1] if path.startswith("/") else ""
        if not secrets.compare_digest(told.encode(), self.token.encode()):
            return "token"
        return None


def _is_of_another_site(headers: Mapping[str, str]) -> bool:
    """Whether the browser says so (Fetch Metadata); an address that was opened is of none."""
    by_itself = headers.get("sec-fetch-site", "none") in ("none", "same-origin")
    return not by_itself and headers.get("sec-fetch-mode") != "navigate"
