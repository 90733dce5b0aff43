"""Who is refused: rules of the same-origin policy and of DNS rebinding, common practice."""

from __future__ import annotations

import pytest

from assistant.board.gate import Gate, new_token

GATE = Gate("http://127.0.0.1:4321", "secret-word")
HOST = {"host": "127.0.0.1:4321"}
OURS = {**HOST, "origin": "http://127.0.0.1:4321"}


@pytest.mark.parametrize("path", ["/secret-word/", "/secret-word/updates", "/secret-word/press"])
def test_the_whole_address_opens_the_board(path: str) -> None:
    assert GATE.refusal("GET", path, HOST) is None
    assert GATE.refusal("POST", path, OURS) is None


@pytest.mark.parametrize(
    "path",
    ["/", "", "/secret", "/secret-words/", "/Secret-word/", "//secret-word/", "/x/secret-word"],
)
def test_without_the_random_word_nothing_opens(path: str) -> None:
    assert GATE.refusal("GET", path, HOST) == "token"


@pytest.mark.parametrize(
    "host", [None, "", "localhost:4321", "127.0.0.1", "127.0.0.1:80", "evil.example:4321"]
)
def test_another_host_name_is_refused_even_with_the_word(host: str | None) -> None:
    headers = {} if host is None else {"host": host}
    assert GATE.refusal("GET", "/secret-word/", headers) == "host"


@pytest.mark.parametrize(
    "origin", ["null", "", "http://evil.example", "http://127.0.0.1:80", "https://127.0.0.1:4321"]
)
@pytest.mark.parametrize("method", ["GET", "POST"])
def test_another_origin_is_refused_even_with_the_word(origin: str, method: str) -> None:
    assert GATE.refusal(method, "/secret-word/", {**HOST, "origin": origin}) == "origin"


def test_what_changes_something_has_to_tell_its_origin() -> None:
    assert GATE.refusal("POST", "/secret-word/press", HOST) == "origin"


def test_what_another_site_embeds_is_refused_and_an_opened_address_is_not() -> None:
    embedded = {**HOST, "sec-fetch-site": "cross-site", "sec-fetch-mode": "no-cors"}
    assert GATE.refusal("GET", "/secret-word/board.js", embedded) == "site"
    opened = {**HOST, "sec-fetch-site": "cross-site", "sec-fetch-mode": "navigate"}
    assert GATE.refusal("GET", "/secret-word/", opened) is None


def test_the_word_is_new_each_time_long_and_not_shown_by_accident() -> None:
    words = {new_token() for _ in range(100)}
    assert len(words) == 100
    assert min(map(len, words)) >= 22  # 128 bits in base 64
    assert "secret-word" not in repr(GATE)
