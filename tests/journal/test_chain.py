"""The chain under attack: every change to a journal's lines is named with its line."""

from __future__ import annotations

import hashlib
import itertools
import json
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.journal import chain
from assistant.journal.chain import Level, Problem
from assistant.journal.entry import FORMAT, opening
from tests.journal.chained import chained

OPENED = opening(
    {"work order": "KF-2207", "technician": "M. Orr"},
    {"set-geared-limits.yaml": "ab" * 32},
    {"tag": "KF-07", "drawing": "KF-E-118", "revision": "C"},
    {"name": "set-geared-limits", "title": "Set the geared limit switches", "revision": "3"},
    "0.1.0",
)


def stamp(second: int) -> str:
    return f"2031-05-14T08:{second // 60:02d}:{second % 60:02d}.000Z"


def journal(*texts: str, first: dict[str, Any] | None = None) -> list[bytes]:
    """A sound journal: opened, then one reply a text."""
    bodies: list[dict[str, Any]] = [first or OPENED]
    bodies += [{"kind": "heard", "heard": {"text": text, "confidence": 0.9}} for text in texts]
    return [entry.line + b"\n" for entry in chained(bodies, stamp)]


REPLIES = ("yes", "one and two open", "counterclockwise", "yes", "done", "five and six closed")
SOUND = tuple(journal(*REPLIES))


def where(problems: list[Problem]) -> list[int]:
    return sorted({problem.line for problem in problems})


def test_a_sound_journal_has_no_problem() -> None:
    assert chain.check(SOUND) == []


def test_previous_is_the_hash_of_the_line_before_without_its_newline() -> None:
    # The journal's format: what `tail -n 1 | tr -d '\n' | sha256sum` prints of the line before.
    for before, line in itertools.pairwise(SOUND):
        assert json.loads(line)["previous"] == hashlib.sha256(before[:-1]).hexdigest()
    assert json.loads(SOUND[0])["previous"] == "0" * 64


@pytest.mark.parametrize("number", range(1, len(SOUND)))
def test_an_edited_word_shows_in_the_line_after(number: int) -> None:
    lines = list(SOUND)
    old, new = (b"KF-07", b"KF-12") if number == 1 else (b"confidence", b"confidense")
    lines[number - 1] = lines[number - 1].replace(old, new)
    assert lines[number - 1] != SOUND[number - 1]
    problems = chain.check([bytes(line) for line in lines])
    assert number + 1 in where(problems)
    assert set(where(problems)) <= {number, number + 1}


@pytest.mark.parametrize("number", range(1, len(SOUND)))
def test_a_dropped_line_shows_where_it_was(number: int) -> None:
    lines = [line for at, line in enumerate(SOUND, 1) if at != number]
    assert where(chain.check(lines)) == [number]


@pytest.mark.parametrize("number", range(1, len(SOUND)))
def test_two_swapped_lines_show(number: int) -> None:
    lines = list(SOUND)
    lines[number - 1], lines[number] = lines[number], lines[number - 1]
    assert where(chain.check(lines))[:2] == [number, number + 1]


@pytest.mark.parametrize("number", range(1, len(SOUND) + 1))
def test_a_doubled_line_shows(number: int) -> None:
    lines = [*SOUND[:number], SOUND[number - 1], *SOUND[number:]]
    assert number + 1 in where(chain.check(lines))


@given(st.permutations(range(len(SOUND))))
def test_no_other_order_passes(order: list[int]) -> None:
    lines = [SOUND[at] for at in order]
    assert bool(chain.check(lines)) == (lines != list(SOUND))


@given(st.integers(0, len(b"".join(SOUND[:-1])) - 1), st.integers(1, 255))
def test_no_changed_byte_before_the_last_line_passes(position: int, flip: int) -> None:
    data = bytearray(b"".join(SOUND))
    data[position] ^= flip
    problems = chain.check(chain.split_lines(bytes(data)))
    assert problems
    at = b"".join(SOUND)[:position].count(b"\n") + 1
    assert set(where(problems)) & {at, at + 1}


@pytest.mark.parametrize("cut", [1, 2, 40, 120])
def test_a_line_cut_in_the_middle_is_called_torn(cut: int) -> None:
    data = b"".join(SOUND)[:-cut]
    (problem,) = chain.check(chain.split_lines(data))
    assert problem.line == len(SOUND)
    assert "torn" in problem.what


def test_a_line_of_another_job_shows() -> None:
    other = journal(*reversed(REPLIES), first={**OPENED, "job": {"work order": "KF-9999"}})
    lines = [*SOUND[:3], other[3], *SOUND[4:]]
    assert where(chain.check(lines)) == [4, 5]


@pytest.mark.parametrize(
    "line",
    [b"\n", b"hello\n", b"[]\n", b"\xff\xfe\n", b'{"seq":4}\n', b"\x00" * 64 + b"\n"],
    ids=["empty", "text", "list", "bytes", "fields missing", "zeros"],
)
def test_a_line_that_is_no_entry_is_named_and_the_rest_still_read(line: bytes) -> None:
    entries, problems = chain.walk([*SOUND[:3], line, *SOUND[4:]])
    assert where(list(problems)) == [4, 5]
    assert len(entries) == len(SOUND) - 1


@pytest.mark.parametrize(
    "spoil",
    [
        lambda line: line.replace(b":", b": ", 1),
        lambda line: json.dumps(json.loads(line)).encode() + b"\n",
        lambda line: line[:-1] + b"\r\n",
        lambda line: line.replace(b"0.9", b"0.90"),
        lambda line: line.replace(b'{"', b'{"heard":1,"', 1),
    ],
    ids=["a space", "another writer", "carriage return", "number", "doubled name"],
)
def test_another_way_to_write_the_same_is_not_canonical(spoil: Any) -> None:
    line = spoil(SOUND[-1])
    assert line != SOUND[-1]
    (problem,) = chain.check([*SOUND[:-1], line])
    assert problem.line == len(SOUND)
    assert "canonical" in problem.what


def test_time_that_goes_back_is_a_notice_where_it_went_back_and_not_at_every_line_after() -> None:
    lines = journal("yes")
    back = chain.link(lines[-1], 3, stamp(0), {"kind": "heard"}).line + b"\n"
    after = chain.link(back, 4, stamp(1), {"kind": "heard"}).line + b"\n"
    problems = chain.check([*lines, back, after])
    assert [(problem.line, problem.level) for problem in problems] == [(3, Level.NOTICE)]


def _by_hand(seq: int, body: dict[str, Any], previous: str = "0" * 64) -> bytes:
    fields = {"seq": seq, "time": stamp(seq), "previous": previous, **body}
    return json.dumps(fields, sort_keys=True, separators=(",", ":")).encode() + b"\n"


@pytest.mark.parametrize(
    ("body", "named"),
    [
        ({"kind": "heard"}, "'opened'"),
        ({"kind": "opened"}, "None"),
        ({"kind": "opened", "format": "gloveside-journal/next"}, FORMAT),
    ],
)
def test_the_first_entry_must_open_a_journal_of_a_known_format(
    body: dict[str, Any], named: str
) -> None:
    (problem,) = chain.check([_by_hand(1, body)])
    assert (problem.line, problem.level) == (1, Level.ERROR)
    assert named in problem.what


def test_only_one_entry_opens() -> None:
    first = _by_hand(1, {"kind": "opened", "format": FORMAT})
    second = _by_hand(2, {"kind": "opened", "format": FORMAT}, chain.line_hash(first))
    (problem,) = chain.check([first, second])
    assert problem.line == 2


@pytest.mark.parametrize("seq", [1, 3])
def test_a_wrong_number_shows_even_where_the_hashes_fit(seq: int) -> None:
    first = _by_hand(1, {"kind": "opened", "format": FORMAT})
    second = _by_hand(seq, {"kind": "heard"}, chain.line_hash(first))
    (problem,) = chain.check([first, second])
    assert (problem.line, problem.level) == (2, Level.ERROR)
    assert f"entry {seq} stands where entry 2 should" in problem.what


def test_an_empty_journal_is_a_problem() -> None:
    assert where(chain.check([])) == [1]


def test_every_problem_has_a_remedy() -> None:
    spoiled = [b"x\n", SOUND[3], SOUND[1], SOUND[1], b"torn"]
    problems = chain.check(spoiled) + chain.check([]) + chain.check_last(SOUND, "00")
    assert len(problems) > 6
    assert all(problem.what and problem.remedy for problem in problems)


# What the chain alone cannot show, and a hash kept elsewhere can.


def test_lines_cut_from_the_end_show_against_a_kept_hash_only() -> None:
    kept = chain.line_hash(SOUND[-1])
    assert chain.check(SOUND[:-2]) == []
    assert chain.check_last(SOUND, kept) == []
    assert where(chain.check_last(SOUND[:-2], kept)) == [len(SOUND) - 2]


def test_a_journal_written_anew_shows_against_a_kept_hash_only() -> None:
    forged = journal("yes", "one and two closed", *REPLIES[2:])
    assert chain.check(forged) == []
    assert chain.check_last(forged, chain.line_hash(SOUND[-1]))


def test_a_kept_hash_of_an_earlier_line_is_recognised() -> None:
    (problem,) = chain.check_last(SOUND, chain.line_hash(SOUND[3]).upper() + "\n")
    assert "line 4" in problem.what


# Linking.


def test_link_gives_what_a_replay_will_read() -> None:
    entry = chain.link(SOUND[-1], 8, stamp(9), {"kind": "heard", "acts": ("a", 1.0)})
    assert entry.body["acts"] == ["a", 1]


@pytest.mark.parametrize(
    ("previous", "seq", "body"),
    [
        (None, 2, {"kind": "heard"}),
        (SOUND[0], 1, OPENED),
        (None, 1, {"kind": "heard"}),
        (None, 1, {"kind": "opened"}),
        (SOUND[0], 2, OPENED),
        (SOUND[0], 2, {}),
        (SOUND[0], 2, {"kind": "heard", "seq": 9}),
        (SOUND[0], 2, {"kind": "heard", "x": float("nan")}),
        (SOUND[0], 2, {"kind": "heard", "x": object()}),
    ],
)
def test_link_refuses_what_check_would(
    previous: bytes | None, seq: int, body: dict[str, Any]
) -> None:
    with pytest.raises(ValueError):
        chain.link(previous, seq, stamp(2), body)


@given(st.lists(st.text(), max_size=8))
def test_whatever_is_linked_passes(texts: list[str]) -> None:
    lines = journal(*texts)
    assert chain.check(chain.split_lines(b"".join(lines))) == []
    assert [entry.line + b"\n" for entry in chain.walk(lines)[0]] == lines


@given(st.binary())
def test_splitting_loses_nothing(data: bytes) -> None:
    lines = chain.split_lines(data)
    assert b"".join(lines) == data
    assert all(line.count(b"\n") == 1 and line.endswith(b"\n") for line in lines[:-1])


@given(st.lists(st.binary(max_size=60), max_size=5))
def test_no_bytes_break_the_check(pieces: list[bytes]) -> None:
    lines = chain.split_lines(b"\n".join(pieces))
    assert chain.check(lines)


@pytest.mark.parametrize("value", [b'"\\ud800"', b"1e999", b"1.0", b"1E5", b'"\\u0041"'])
def test_a_line_whose_value_has_another_or_no_canonical_form_is_named(value: bytes) -> None:
    # RFC 8785 §3.2.2: half a surrogate pair and an infinity have no form at all.
    line = SOUND[1].replace(b'"seq":2', b'"seq":2,"spare":' + value)
    (problem, *_) = chain.check([SOUND[0], line])
    assert problem.line == 2
    assert "canonical" in problem.what
