"""The board over HTTP, on a real socket."""

from __future__ import annotations

import contextlib
import json
import socket
import ssl
import threading
import time
from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from ipaddress import ip_address
from pathlib import Path
from urllib.parse import urlsplit

import pytest
from cryptography import x509
from cryptography.hazmat.primitives import hashes, serialization
from cryptography.hazmat.primitives.asymmetric import ec
from cryptography.x509.oid import NameOID

from assistant.board.board import Board
from assistant.board.server import LOOPBACK, BoardError, Tls
from assistant.board.view import first_view
from tests.board.client import NONE, Headers, ask, connect, updates
from tests.board.opened import exchanges, opened
from tests.session.job import TO_READING, two_ends
from tests.speech.keys import no_press

EXCHANGES = exchanges(*TO_READING)


@pytest.fixture
def board() -> Iterator[Board]:
    with opened() as made:
        yield made


def origin(board: Board) -> str:
    return board.address.rpartition("/")[0].rpartition("/")[0]


# Who may see it


def test_it_listens_on_loopback_alone(board: Board) -> None:
    place = urlsplit(board.address)
    assert place.hostname == LOOPBACK
    assert place.port
    with pytest.raises(OSError), socket.create_connection(("127.0.0.2", place.port), 1):
        pass


def test_the_whole_address_shows_the_page(board: Board) -> None:
    answer = ask(board)
    assert answer.status == 200
    assert "KF-07" in answer.text


@pytest.mark.parametrize("path", ["/", "/board.js", "/updates", "/wrong-word/", "/press"])
def test_without_the_random_word_everything_is_refused(board: Board, path: str) -> None:
    answer = ask(board, path)
    assert answer.status == 403
    assert "KF-07" not in answer.text


@pytest.mark.parametrize("path", ["", "board.js", "updates"])
@pytest.mark.parametrize(
    "headers",
    [
        {"Host": "evil.example"},
        {"Host": "localhost"},
        {"Origin": "http://evil.example"},
        {"Origin": "null"},
        {"Sec-Fetch-Site": "cross-site", "Sec-Fetch-Mode": "cors"},
    ],
)
def test_another_host_or_origin_is_refused_with_the_word(
    board: Board, path: str, headers: dict[str, str]
) -> None:
    assert ask(board, path, headers=headers).status == 403


def test_every_answer_forbids_what_is_not_needed(board: Board) -> None:
    for answer in (ask(board), ask(board, "board.js"), ask(board, "none"), ask(board, "/")):
        assert answer.headers["cache-control"] == "no-store"
        policy = answer.headers["content-security-policy"]
        assert "default-src 'none'" in policy
        assert "unsafe" not in policy
        assert "frame-ancestors 'none'" in policy
        assert answer.headers["referrer-policy"] == "no-referrer"  # the address holds the word
        assert "access-control-allow-origin" not in answer.headers
        assert "server" not in answer.headers


# What it shows


def views(events: Iterator[dict[str, str]], count: int) -> list[int]:
    found: list[int] = []
    while len(found) < count:
        if (event := next(events))["event"] == "view":
            found.append(int(event["id"]))
    return found


def test_each_event_is_an_update_and_a_break_loses_none(board: Board) -> None:
    with updates(board, "?after=0") as events:
        for exchange in EXCHANGES[:4]:
            board.show(*exchange)
        assert views(events, 4) == [1, 2, 3, 4]
    for exchange in EXCHANGES[4:9]:
        board.show(*exchange)
    with updates(board, headers={"Last-Event-ID": "4"}) as events:
        assert views(events, 5) == [5, 6, 7, 8, 9]


def test_the_page_that_is_opened_late_shows_the_present_step(board: Board) -> None:
    for exchange in EXCHANGES:
        board.show(*exchange)
    with updates(board) as events:
        assert views(events, 1) == [len(EXCHANGES)]
    assert "open end" in ask(board).text


def test_an_end_is_told_to_every_board() -> None:
    with opened() as board, updates(board) as one, updates(board, "?after=0") as other:
        board.show(*EXCHANGES[0])
        assert (views(one, 1), views(other, 1)) == ([0], [1])
        board.close()
        told = {event["event"] for event in [*one, *other]}
        assert "over" in told


def test_a_step_that_cannot_be_shown_is_told_and_the_next_is_shown_again(
    board: Board, capsys: pytest.CaptureFixture[str]
) -> None:
    board.show(EXCHANGES[0][0], None)  # type: ignore[arg-type]
    board.show(*EXCHANGES[0])
    with updates(board, "?after=0") as events:
        assert "cannot show this step" in next(events)["data"]
        assert "Is the motor supply" in next(events)["data"]
    assert "the board cannot show this step" in capsys.readouterr().err


# The voice never waits


def test_the_voice_goes_on_whatever_the_board_does(board: Board) -> None:
    """Its thread hangs for two seconds; 1,000 events are handed over in a fraction of that."""
    hangs, goes_on = threading.Event(), threading.Event()

    def hang() -> None:
        hangs.set()
        goes_on.wait(2)

    board._server.call(hang)
    assert hangs.wait(5)
    began = time.monotonic()
    for _ in range(1000):
        board.show(*EXCHANGES[0])
    took = time.monotonic() - began
    goes_on.set()
    assert took < 1


def test_a_board_that_never_reads_is_not_waited_for(board: Board) -> None:
    with contextlib.closing(connect(board)) as deaf, updates(board, "?after=0") as events:
        deaf.request("GET", f"{urlsplit(board.address).path}updates")
        last = 0
        for number in range(1, 301):
            board.show(*EXCHANGES[number % len(EXCHANGES)])
        while last < 300:
            (last,) = views(events, 1)


# Keys


def press(board: Board, word: str, number: int, headers: Headers = NONE) -> int:
    told = {"Origin": origin(board), "Content-Type": "application/json", **headers}
    body = json.dumps({"word": word, "number": number})
    return ask(board, "press", "POST", body, told).status


def test_nothing_can_be_pressed_unless_it_was_allowed(board: Board) -> None:
    assert press(board, "yes", 0) == 404


def test_a_press_reaches_the_job_once_and_only_from_what_is_shown() -> None:
    presses = no_press()
    with opened(presses=presses) as board:
        board.show(*EXCHANGES[0])
        assert press(board, "yes", 0) == 409  # what was pressed on is no longer shown
        assert press(board, "yes", 1) == 202
        assert press(board, "no", 1) == 409  # one press waits already
        assert presses.take() == "yes"
        assert presses.take() is None
        assert press(board, "yes", 1) == 202
        board.show(*EXCHANGES[1])
        assert presses.take() is None  # the job went on meanwhile


def test_hold_reaches_the_job_from_any_view_and_before_another_press() -> None:
    presses = no_press()
    with opened(presses=presses) as board:
        board.show(*EXCHANGES[0])
        assert press(board, "yes", 1) == 202
        assert press(board, "hold", 0) == 202  # pressed on what is no longer shown
        board.show(*EXCHANGES[1])
        assert presses.take() == "hold"  # though the job went on meanwhile
        assert presses.take() is None


@pytest.mark.parametrize(
    "word",
    [
        "checker correct",  # the second person's word
        "one and two closed",  # contacts are said
        "all was checked by the shift leader",  # no words are kept as a reason
        "mark",  # a key, but of another question than the yes or no that is shown
        "yes \ud800",  # half a surrogate pair
        "",
    ],
)
def test_what_is_no_key_of_the_view_is_refused(word: str) -> None:
    presses = no_press()
    with opened(presses=presses) as board:
        board.show(*EXCHANGES[0])
        assert press(board, word, 1) == 400
        assert presses.take() is None


def test_nothing_but_hold_can_be_pressed_on_a_view_without_keys() -> None:
    presses = no_press()
    with opened(presses=presses) as board:
        assert press(board, "yes", 0) == 400  # nothing is asked yet
        board.show(*EXCHANGES[0])
        board.show_failure("the loudspeaker was unplugged")
        assert press(board, "yes", 2) == 400
        assert press(board, "hold", 2) == 202
        assert presses.take() == "hold"


@pytest.mark.parametrize("replies", [(), ("hold",), ("hold", "take a note")])
def test_hold_can_be_pressed_on_every_view(replies: tuple[str, ...]) -> None:
    presses = no_press()
    with opened(presses=presses) as board:
        shown = exchanges(*replies)
        for exchange in shown:
            board.show(*exchange)
        assert press(board, "hold", len(shown)) == 202
        assert presses.take() == "hold"


@pytest.mark.parametrize("headers", [{"Origin": "http://evil.example"}, {"Host": "evil.example"}])
def test_a_press_of_another_site_is_refused(headers: dict[str, str]) -> None:
    presses = no_press()
    with opened(presses=presses) as board:
        assert press(board, "yes", 0, headers) == 403
        assert ask(board, "press", "POST", '{"word": "yes", "number": 0}').status == 403
        assert presses.take() is None


@pytest.mark.parametrize(
    "body",
    ["", "yes", "[]", '{"word": 1, "number": 0}', '{"word": "yes"}', '{"word": "x"}' + " " * 2000],
)
def test_what_is_no_press_is_refused(body: str) -> None:
    presses = no_press()
    with opened(presses=presses) as board:
        assert ask(board, "press", "POST", body, {"Origin": origin(board)}).status == 400
        assert presses.take() is None


def test_a_press_is_no_link() -> None:
    with opened(presses=no_press()) as board:
        assert ask(board, "press").status == 405


# On the site's own network


@pytest.fixture(scope="module")
def tls(tmp_path_factory: pytest.TempPathFactory) -> Tls:
    """A certificate of loopback that signs itself."""
    folder = tmp_path_factory.mktemp("tls")
    key = ec.generate_private_key(ec.SECP256R1())
    name = x509.Name([x509.NameAttribute(NameOID.COMMON_NAME, "board")])
    now = datetime.now(UTC)
    certificate = (
        x509.CertificateBuilder()
        .subject_name(name)
        .issuer_name(name)
        .public_key(key.public_key())
        .serial_number(x509.random_serial_number())
        .not_valid_before(now - timedelta(days=1))
        .not_valid_after(now + timedelta(days=1))
        .add_extension(x509.SubjectAlternativeName([x509.IPAddress(ip_address(LOOPBACK))]), False)
        .sign(key, hashes.SHA256())
    )
    files = Tls(folder / "certificate.pem", folder / "key.pem")
    files.certificate.write_bytes(certificate.public_bytes(serialization.Encoding.PEM))
    files.key.write_bytes(
        key.private_bytes(
            serialization.Encoding.PEM,
            serialization.PrivateFormat.PKCS8,
            serialization.NoEncryption(),
        )
    )
    return files


def test_with_a_certificate_it_is_seen_over_tls_and_not_without(tls: Tls) -> None:
    trusted = ssl.create_default_context(cafile=tls.certificate)
    with opened(tls=tls) as board:
        assert board.address.startswith("https://")
        assert ask(board, trusted=trusted).status == 200
        assert ask(board, "/", trusted=trusted).status == 403
        with pytest.raises(ssl.SSLError):
            ask(board, trusted=ssl.create_default_context())
        place = urlsplit(board.address)
        with socket.create_connection((LOOPBACK, place.port), 5) as plain:
            plain.sendall(b"GET / HTTP/1.1\r\nHost: x\r\n\r\n")
            assert not plain.recv(10).startswith(b"HTTP")


def test_an_address_that_others_see_needs_a_certificate() -> None:
    with pytest.raises(BoardError, match="needs a certificate"):
        Board(first_view(two_ends(), None), host="192.0.2.7")


@pytest.mark.parametrize("host", ["", "0.0.0.0", "::", "*"])
def test_all_addresses_at_once_are_refused(host: str, tls: Tls) -> None:
    with pytest.raises(BoardError, match="one address"):
        Board(first_view(two_ends(), None), host=host, tls=tls)


def test_a_certificate_that_cannot_be_used_is_told_with_its_files(tmp_path: Path) -> None:
    (tmp_path / "a.pem").write_text("no certificate")
    with pytest.raises(BoardError, match=r"a\.pem .*cannot be used.*--board-tls"):
        Board(first_view(two_ends(), None), tls=Tls(tmp_path / "a.pem", tmp_path / "a.pem"))


def test_a_port_that_is_taken_is_told_with_a_remedy() -> None:
    with socket.create_server((LOOPBACK, 0)) as other:
        taken = other.getsockname()[1]
        with pytest.raises(BoardError, match=f"{taken}: cannot be listened on.*free"):
            Board(first_view(two_ends(), None), port=taken)
