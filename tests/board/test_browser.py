"""The board in a real browser: what a person sees while a job is done.

Skipped where there is no Chromium or no Playwright (`tests/board/browser.py` says what is missing).
"""

from __future__ import annotations

import contextlib
import threading
import time
from collections.abc import Iterator
from dataclasses import replace
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from typing import Any
from urllib.parse import urlsplit

import pytest

from assistant.board.board import Board
from assistant.board.follow import follow
from assistant.board.page import announcement
from assistant.board.server import LOOPBACK
from assistant.board.view import Situation, first_view
from assistant.rig.soundless_job import in_words, play
from tests.board.browser import (
    Browser,
    Page,
    chromium,
    lacking,
    launched,
    look_at,
    seen,
    until,
)
from tests.board.opened import exchanges, opened
from tests.board.relay import ADDRESS as RELAY
from tests.board.relay import Relay
from tests.board.shown import CONTRADICTION, READING
from tests.rig.test_soundless_job import PROGRAM, session, technician, wrong
from tests.session.job import TO_READING, kf, two_ends
from tests.speech.keys import no_press

pytestmark = pytest.mark.skipif(bool(lacking()), reason=lacking())

SITUATIONS = {
    "question": TO_READING,
    "confirming": (*TO_READING, READING),
    "direction": (*TO_READING, READING, "correct"),
    "hold": (*TO_READING, READING, "correct", "hold"),
    "contradiction": (*TO_READING, CONTRADICTION, "correct"),
}
SCREENS = {"phone": (390, 844), "tablet": (820, 1180), "laptop": (1280, 800)}


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    """In it a name of another site points here (DNS rebinding)."""
    with chromium(f"--host-resolver-rules=MAP rebound.example {LOOPBACK}") as running:
        yield running


@pytest.fixture
def board() -> Iterator[Board]:
    with opened() as made:
        yield made


def show(board: Board, *replies: str) -> int:
    """Let a board show a job up to these replies, and answer the number of the last update."""
    happened = exchanges(*replies)
    for exchange in happened:
        board.show(*exchange)
    return len(happened)


def numbers(page: Page) -> list[int]:
    return [update["number"] for update in seen(page)]


def text(page: Page) -> str:
    return " ".join(page.inner_text("body").split())


# What is seen


def test_a_whole_job_is_followed_live_step_by_step(browser: Browser) -> None:
    rig = wrong("07")
    view = first_view(PROGRAM, rig.unit)
    told: list[str] = []
    with opened(view) as board:
        page = look_at(browser, board.address)
        for event, effects in play(session(rig.unit), technician(rig), in_words):
            view = follow(view, event, effects)
            board.show(event, effects)
            told.append(announcement(view))
            if len(told) % 5 == 0:  # a job is no faster than that
                until(page, len(told))
                assert page.inner_text("#announcement") == told[-1]
        until(page, len(told))
        shown = seen(page)
        assert view.situation is Situation.DONE
        assert page.is_visible("text=Done")
    assert [update["number"] for update in shown] == list(range(1, len(told) + 1))
    assert [update["announcement"] for update in shown] == told
    assert len(told) > 70


def test_after_a_break_no_step_is_missing_and_during_it_no_direction_is_shown(
    browser: Browser, board: Board
) -> None:
    happened = exchanges(*TO_READING, READING, "correct", "done", "mark", "mark three", "correct")
    before = len(TO_READING) + 4
    port = urlsplit(board.address).port
    assert port
    relayed = launched(browser.browser_type, f"--host-resolver-rules=MAP {LOOPBACK} {RELAY}")
    with contextlib.closing(relayed), Relay(port) as network:
        page = look_at(relayed, board.address)
        for number, exchange in enumerate(happened[:before], start=1):
            board.show(*exchange)
            until(page, number)
        assert page.is_visible(".turn")
        network.cut()
        page.wait_for_selector("#link:visible")
        assert "No connection" in page.inner_text("#link")
        assert not page.is_visible(".turn")
        for exchange in happened[before:]:
            board.show(*exchange)
        network.mend()
        until(page, len(happened))
        assert numbers(page) == list(range(1, len(happened) + 1))
        page.wait_for_selector("#link", state="hidden")
        assert page.is_visible(".turn")


def test_a_program_that_gives_no_sign_of_life_is_told_and_its_return_is_seen(
    browser: Browser, board: Board
) -> None:
    page = look_at(browser, board.address)
    goes_on = threading.Event()

    def hang() -> None:
        goes_on.wait(30)

    board._server.call(hang)
    page.wait_for_selector("#link:visible")
    board.show(*exchanges()[0])
    goes_on.set()
    until(page, 1)
    page.wait_for_selector("#link", state="hidden")


def test_the_end_of_the_program_is_told(browser: Browser) -> None:
    with opened() as board:
        page = look_at(browser, board.address)
        until(page, 0)
        page.wait_for_timeout(300)  # until it listens for updates
        board.close()
        page.wait_for_selector("#link:visible")
        assert "has ended" in page.inner_text("#link")


def test_the_four_words_stay_legible_once_the_program_has_ended(browser: Browser) -> None:
    with opened(replace(first_view(two_ends(), kf("07")), situation=Situation.DONE)) as board:
        board.show_words(["turkey", "bucket", "raven", "trout"])
        page = look_at(browser, board.address)
        until(page, 1)
        page.wait_for_timeout(300)  # until it listens for updates
        board.close()
        page.wait_for_selector("#link:visible")
        assert page.eval_on_selector("#board", "it => getComputedStyle(it).opacity") == "1"
        assert "trout" in text(page)


def test_ten_boards_see_every_step_and_the_voice_waits_for_none(
    browser: Browser, board: Board
) -> None:
    """The time is that of handing over, which is all that the voice does for a board."""
    happened = exchanges(*TO_READING, READING, "correct")
    pages = [look_at(browser, board.address) for _ in range(10)]
    took: list[float] = []
    for exchange in happened:
        began = time.perf_counter()
        board.show(*exchange)
        took.append(time.perf_counter() - began)
        time.sleep(0.05)
    for page in pages:
        until(page, len(happened))
        assert numbers(page) == list(range(1, len(happened) + 1))
    assert sorted(took)[len(took) // 2] < 0.005


# What is pressed


def press(page: Page, word: str, status: int) -> None:
    """Press a key, which is answered with this status of HTTP."""
    with page.expect_response("**/press") as answered:
        page.click(f"button[data-press={word}]")
    assert answered.value.status == status


def asked(way: Any) -> str:
    """What a request holds that is on its way."""
    return str(way.request.post_data)


def test_a_key_is_pressed_once_and_gone_where_nothing_may_be_pressed(browser: Browser) -> None:
    presses = no_press()
    with opened(presses=presses) as board:
        page = look_at(browser, board.address)
        until(page, show(board, *SITUATIONS["confirming"]))
        assert page.locator("button").all_inner_texts() == ["correct", "wrong", "hold"]
        with page.expect_response("**/press") as answered:
            page.click("text=correct >> nth=-1")
        assert answered.value.status == 202
        assert presses.take() == "correct"
    with opened() as board:
        page = look_at(browser, board.address)
        until(page, show(board, *SITUATIONS["confirming"]))
        assert page.locator("button").count() == 0


def test_a_key_of_an_old_view_reaches_no_later_question(browser: Browser) -> None:
    presses = no_press()
    with opened(presses=presses) as board:
        page = look_at(browser, board.address)
        until(page, show(board, *SITUATIONS["confirming"]))
        page.evaluate("source.close()")  # this board sees nothing more
        for exchange in exchanges(*SITUATIONS["direction"])[-1:]:
            board.show(*exchange)
        page.click("button[data-press=correct]")
        page.wait_for_selector("button[data-press=correct]:enabled")
        assert presses.take() is None


def test_hold_is_pressed_after_another_answer_and_from_an_old_view(browser: Browser) -> None:
    presses = no_press()
    with opened(presses=presses) as board:
        page = look_at(browser, board.address)
        until(page, show(board, *SITUATIONS["confirming"]))
        press(page, "correct", 202)
        press(page, "hold", 202)
        assert presses.take() == "hold"
        page.evaluate("source.close()")  # this board sees nothing more
        for exchange in exchanges(*SITUATIONS["direction"])[-1:]:
            board.show(*exchange)
        press(page, "hold", 202)
        assert presses.take() == "hold"
        assert not page.is_visible("#uncounted")


def test_hold_can_be_pressed_while_another_press_is_on_its_way(browser: Browser) -> None:
    presses = no_press()
    with opened(presses=presses) as board:
        page = look_at(browser, board.address)
        until(page, show(board, *SITUATIONS["confirming"]))
        page.route("**/press", lambda way: None if "correct" in asked(way) else way.continue_())
        page.click("button[data-press=correct]")
        page.wait_for_selector("button[data-press=correct]:disabled")
        press(page, "hold", 202)
        assert presses.take() == "hold"


def test_a_press_that_does_not_count_is_told_in_words_for_a_moment(browser: Browser) -> None:
    presses = no_press()
    with opened(presses=presses) as board:
        page = look_at(browser, board.address)
        until(page, show(board, *SITUATIONS["confirming"]))
        press(page, "correct", 202)
        press(page, "wrong", 409)
        page.wait_for_selector("#uncounted:visible")
        told = page.inner_text("#uncounted")
        assert told == "“wrong” did not count. Look before you press again."
        assert page.get_attribute("#uncounted", "role") == "alert"
        page.wait_for_selector("#uncounted", state="hidden", timeout=30_000)
        assert presses.take() == "correct"


def test_a_press_that_is_not_answered_is_told_and_the_next_that_counts_takes_it_off(
    browser: Browser,
) -> None:
    with opened(presses=no_press()) as board:
        page = look_at(browser, board.address)
        until(page, show(board, *SITUATIONS["confirming"]))
        page.route("**/press", lambda way: way.abort())
        page.click("button[data-press=hold]")
        page.wait_for_selector("#uncounted:visible")
        assert "“hold” may be lost. Say it" in page.inner_text("#uncounted")
        page.unroute("**/press")
        press(page, "hold", 202)
        assert not page.is_visible("#uncounted")


# Who may see it


class OtherSite(BaseHTTPRequestHandler):
    """A page of another origin on this machine."""

    def do_GET(self) -> None:
        body = b"<!DOCTYPE html><title>Other</title><p>other"
        self.send_response(200)
        self.send_header("Content-Type", "text/html")
        self.send_header("Content-Length", str(len(body)))
        self.end_headers()
        self.wfile.write(body)

    def log_message(self, *_: Any) -> None:
        pass


@pytest.fixture
def other_site() -> Iterator[str]:
    with ThreadingHTTPServer((LOOPBACK, 0), OtherSite) as server:
        threading.Thread(target=server.serve_forever, daemon=True).start()
        yield f"http://{LOOPBACK}:{server.server_address[1]}/"
        server.shutdown()


def test_a_page_of_another_site_neither_reads_nor_presses_even_with_the_address(
    browser: Browser, other_site: str
) -> None:
    presses = no_press()
    with opened(presses=presses) as board:
        page = look_at(browser, other_site)
        tries = """async (address) => {
            const read = await fetch(address).then(() => "read", () => "refused");
            const press = { method: "POST", body: '{"word": "yes", "number": 0}' };
            await fetch(address + "press", { ...press, mode: "no-cors" }).catch(() => null);
            const source = new EventSource(address + "updates");
            const told = await new Promise((tell) => {
                source.addEventListener("view", () => tell("told"));
                source.onerror = () => tell("refused");
            });
            source.close();
            return [read, told];
        }"""
        assert page.evaluate(tries, board.address) == ["refused", "refused"]
        assert presses.take() is None


def test_a_page_of_another_site_cannot_frame_it(
    browser: Browser, board: Board, other_site: str
) -> None:
    page = look_at(browser, other_site)
    page.evaluate(
        """(address) => new Promise((done) => {
            const frame = document.createElement("iframe");
            frame.onload = done;
            frame.src = address;
            document.body.append(frame);
        })""",
        board.address,
    )
    assert all("KF-07" not in frame.content() for frame in page.frames)


def test_a_name_that_is_made_to_point_here_is_refused(browser: Browser, board: Board) -> None:
    place = urlsplit(board.address)
    page = look_at(browser, board.address)
    assert "KF-07" in text(page)
    answer = page.goto(f"http://rebound.example:{place.port}{place.path}")
    assert answer.status == 403
    assert "KF-07" not in text(page)


def test_nothing_is_loaded_from_elsewhere_and_the_policy_is_not_broken(
    browser: Browser, board: Board
) -> None:
    asked: list[str] = []
    complaints: list[str] = []
    page = look_at(browser, board.address)
    page.on("request", lambda request: asked.append(request.url))
    page.on("console", lambda message: complaints.append(message.text))
    page.on("pageerror", lambda error: complaints.append(str(error)))
    page.reload()
    until(page, show(board, *SITUATIONS["direction"]))
    assert len(asked) >= 4
    assert all(url.startswith((board.address, "data:")) for url in asked)
    assert complaints == []


# How it looks


@pytest.mark.parametrize("situation", SITUATIONS)
@pytest.mark.parametrize("screen", SCREENS)
def test_nothing_is_cut_off_at_the_side_and_what_is_to_be_done_is_on_the_screen(
    browser: Browser, screen: str, situation: str
) -> None:
    width, height = SCREENS[screen]
    with opened(presses=no_press()) as board:
        page = look_at(browser, board.address, width, height)
        until(page, show(board, *SITUATIONS[situation]))
        assert page.evaluate("document.documentElement.scrollWidth") <= width
        keys = page.locator(".keys").bounding_box()["y"]
        assert keys < height
        for sign in page.locator(".sign, .arrow, .word, .say .key").all():
            box = sign.bounding_box()
            assert box["y"] + box["height"] <= keys, sign.inner_text()


@pytest.mark.parametrize("colours", ["light", "dark"])
@pytest.mark.parametrize("screen", ["phone", "laptop"])
def test_axe_finds_nothing(browser: Browser, screen: str, colours: str) -> None:
    axe = pytest.importorskip("axe_core_python.sync_playwright").Axe()
    width, height = SCREENS[screen]
    for replies in SITUATIONS.values():
        with opened(presses=no_press()) as board:
            page = look_at(browser, board.address, width, height, colours)
            until(page, show(board, *replies))
            found = axe.run(page)["violations"]
            assert [(one["id"], one["nodes"][0]["target"]) for one in found] == []


@pytest.mark.parametrize("colours", ["light", "dark"])
@pytest.mark.parametrize("screen", SCREENS)
def test_a_press_that_does_not_count_is_told_beside_the_keys_and_axe_finds_nothing(
    browser: Browser, screen: str, colours: str
) -> None:
    axe = pytest.importorskip("axe_core_python.sync_playwright").Axe()
    width, height = SCREENS[screen]
    with opened(presses=no_press()) as board:
        page = look_at(browser, board.address, width, height, colours)
        until(page, show(board, *SITUATIONS["confirming"]))
        press(page, "correct", 202)
        press(page, "wrong", 409)
        page.wait_for_selector("#uncounted:visible")
        told, keys = (page.locator(name).bounding_box() for name in ("#uncounted", ".keys"))
        assert min(told["x"], told["y"]) >= 0
        assert told["x"] + told["width"] <= width
        assert told["y"] + told["height"] <= keys["y"]
        found = axe.run(page)["violations"]
        assert [(one["id"], one["nodes"][0]["target"]) for one in found] == []
