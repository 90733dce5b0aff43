"""The page: what is in it, and that nothing in it comes from outside or is taken for markup."""

from __future__ import annotations

import re
from dataclasses import replace

from assistant.board.follow import standing_still, stopped, with_words
from assistant.board.page import announcement, render_page, render_view, script, style
from assistant.board.view import Heard, Situation, Standing
from assistant.session.wording import JOB_STOPPED, STANDS_STILL, STOPPED_ENERGISED
from tests.board.shown import READING, watched
from tests.session.job import TO_READING


def test_a_direction_is_an_arrow_with_its_word_and_its_rotor() -> None:
    html = render_view(watched(*TO_READING, READING, "correct", "done").view, 7, presses=False)
    assert 'data-turn="counterclockwise"' in html
    assert 'aria-label="Turn counterclockwise"' in html
    assert re.search(r"<text [^>]*>counterclockwise</text>", html)
    assert "Shaft of the <strong>open</strong> rotor" in html


def test_the_two_ways_differ_in_shape_and_not_in_colour() -> None:
    view = watched(*TO_READING, READING, "correct", "done").view
    assert "matrix(-1" in render_view(view, 1, presses=False)
    other = watched(*TO_READING, READING, "correct", "done", "mark", "mark three", "correct").view
    html = render_view(other, 1, presses=False)
    assert 'aria-label="Turn clockwise"' in html
    assert "matrix(-1" not in html


def test_what_should_be_is_only_shown_beside_what_was_heard() -> None:
    asked = watched(*TO_READING)
    before = render_view(asked.view, 1, presses=False)
    assert before.count('class="none"') == 8
    assert not re.search(r"</svg> (open|closed)", before)
    assert 'class="here' not in before  # beside the line of the drawing it would tell as much
    asked.say(READING)
    after = render_view(asked.view, 2, presses=False)
    assert len(re.findall(r"</svg> (?:open|closed)", after)) == 8
    assert after.count('class="here') == 4


def test_a_state_that_differs_is_marked_by_a_sign() -> None:
    html = render_view(watched(*TO_READING, "one and two open three and four open").view, 1, False)
    assert html.count("≠") == html.count('<tr class="differs">') > 0


def test_words_from_outside_are_never_markup() -> None:
    view = watched(*TO_READING, READING).view
    evil = "<script>alert(1)</script>"
    heard = Heard(evil, evil, Standing.OPEN)
    html = render_view(replace(view, heard=heard, instructions=(evil,)), 1, presses=True)
    assert "<script" not in html
    assert "&lt;script&gt;" in html


def test_the_page_asks_for_nothing_from_outside() -> None:
    page = render_page(watched().view, 0, presses=True)
    for text in (page, script().decode(), style().decode()):
        assert not re.findall(r"(?:https?:)?//[a-z]", text)
    assert set(re.findall(r'(?:src|href)="([^"]*)"', page)) == {"board.js", "board.css", "data:,"}
    assert not re.search(r"<script>|<style|style=|onclick=", page)  # the policy forbids them


def test_keys_are_there_only_where_pressing_is_allowed() -> None:
    view = watched(*TO_READING, READING).view
    assert "<button" not in render_view(view, 1, presses=False)
    found = re.findall(r'data-press="([^"]+)"', render_view(view, 1, presses=True))
    assert found == ["correct", "wrong", "hold"]


def test_a_place_is_kept_where_a_press_that_does_not_count_is_told_at_once() -> None:
    # WAI-ARIA: an alert is spoken at once, and has to stand in the page before its words do.
    page = render_page(watched().view, 0, presses=True)
    assert '<p id="uncounted" role="alert" hidden></p>' in page


def test_a_screen_reader_is_told_what_has_to_be_answered() -> None:
    job = watched(*TO_READING)
    assert announcement(job.view) == job.said
    job.say(READING)
    assert announcement(job.view).startswith("Heard: one and two closed")
    job.say("hold")
    assert announcement(job.view).startswith("On hold. ")


def test_a_question_that_is_asked_in_another_form_is_what_is_shown_and_told() -> None:
    job = watched(*TO_READING)
    job.say("blue banana")
    assert job.view.reply == ""  # the same question once more: it stands there already
    job.say("blue banana")
    assert "contact one closed, yes or no" in job.view.reply
    assert job.view.reply in announcement(job.view)
    assert f"<p>{job.view.reply}</p>" in render_view(job.view, 1, presses=False)


def test_while_the_job_stands_still_only_that_is_shown_and_told() -> None:
    job = watched(*TO_READING)
    view = standing_still(job.view, "The loudspeaker fails: choose another.")
    html = render_view(view, 3, presses=True)
    assert "Stands still" in html
    assert "The loudspeaker fails: choose another." in html
    assert "<p>Plug the device in again.</p>" in html
    assert announcement(view) == STANDS_STILL
    assert "<table" not in html
    assert "data-press" not in html


def test_of_a_job_that_has_stopped_only_what_to_do_and_why_is_shown_and_told() -> None:
    view = stopped(watched(*TO_READING).view, (STOPPED_ENERGISED, JOB_STOPPED), "No space left.")
    html = render_view(view, 3, presses=True)
    assert "Stands still" not in html
    assert "Stopped" in html
    assert f"<p>{STOPPED_ENERGISED}</p>" in html
    assert f"<p>{JOB_STOPPED}</p>" in html
    assert "No space left." in html
    assert announcement(view) == f"{STOPPED_ENERGISED} {JOB_STOPPED}"
    assert "<table" not in html
    assert "data-press" not in html


def test_the_four_words_stand_on_the_last_view() -> None:
    view = with_words(
        replace(watched().view, situation=Situation.DONE), ("owl", "bay", "ox", "elm")
    )
    html = render_view(view, 9, presses=True)
    assert re.findall(r"<li>(\w+)</li>", html) == ["owl", "bay", "ox", "elm"]
