"""Entries and their lines."""

from __future__ import annotations

import json
from datetime import UTC, datetime, timedelta, timezone
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.journal.entry import Entry, timestamp

TIME = "2031-05-14T08:02:11.250Z"
ZEROS = "0" * 64

values = st.recursive(
    st.none() | st.booleans() | st.integers(-(2**53) + 1, 2**53 - 1) | st.text(max_size=8),
    lambda inner: (
        st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=5), inner, max_size=3)
    ),
    max_leaves=8,
)
names = st.text(min_size=1).filter(lambda name: name not in ("seq", "time", "previous", "kind"))
bodies = st.builds(
    lambda kind, rest: {**rest, "kind": kind},
    st.text(min_size=1),
    st.dictionaries(names, values, max_size=4),
)
moments = st.datetimes(datetime(1970, 1, 1), datetime(2999, 1, 1), timezones=st.just(UTC))


@given(st.integers(1, 10**6), moments, bodies)
def test_an_entry_is_read_back_from_its_line(
    seq: int, moment: datetime, body: dict[str, Any]
) -> None:
    entry = Entry(seq, timestamp(moment), "ab" * 32, body)
    assert Entry.from_line(entry.line) == entry
    assert Entry.from_line(entry.line + b"\n").body == body


def test_fields_that_this_program_does_not_know_survive() -> None:
    line = json.dumps(
        {"seq": 2, "time": TIME, "previous": ZEROS, "kind": "heard", "later": {"field": [1, None]}}
    ).encode()
    again = json.loads(Entry.from_line(line).line)
    assert again == json.loads(line)


def test_a_line_is_one_object_with_sorted_names() -> None:
    entry = Entry(1, TIME, ZEROS, {"kind": "heard", "said": ["Read contact one."]})
    assert entry.line == (
        b'{"kind":"heard","previous":"' + b"0" * 64 + b'","said":["Read contact one."],'
        b'"seq":1,"time":"2031-05-14T08:02:11.250Z"}'
    )


@pytest.mark.parametrize(
    ("change", "named"),
    [
        ({"seq": 0}, "seq"),
        ({"seq": True}, "seq"),
        ({"seq": 1.5}, "seq"),
        ({"time": "2031-05-14 08:02:11"}, "time"),
        ({"time": "2031-05-14T08:02:11Z"}, "time"),
        ({"time": "2031-05-14T08:02:11.250+02:00"}, "time"),
        ({"time": "2031-02-30T08:02:11.250Z"}, "time"),
        ({"time": 5}, "time"),
        ({"previous": "0" * 63}, "previous"),
        ({"previous": "A" * 64}, "previous"),
        ({"kind": ""}, "kind"),
        ({"kind": None}, "kind"),
    ],
)
def test_a_wrong_field_is_named(change: dict[str, Any], named: str) -> None:
    fields = {"seq": 1, "time": TIME, "previous": ZEROS, "kind": "heard", **change}
    with pytest.raises(ValueError, match=f"'{named}'"):
        Entry.from_line(json.dumps(fields).encode())


@pytest.mark.parametrize("missing", ["seq", "time", "previous"])
def test_a_missing_field_is_named(missing: str) -> None:
    fields = {"seq": 1, "time": TIME, "previous": ZEROS, "kind": "heard"}
    del fields[missing]
    with pytest.raises(ValueError, match=f"'{missing}'"):
        Entry.from_line(json.dumps(fields).encode())


def test_the_body_cannot_be_changed_afterwards() -> None:
    body = {"kind": "heard"}
    entry = Entry(1, TIME, ZEROS, body)
    body["kind"] = "ended"
    assert entry.kind == "heard"


def test_a_time_is_written_in_utc() -> None:
    # RFC 3339 §4.4 and §5.6: an offset is subtracted, Z is zero offset.
    ahead = timezone(timedelta(hours=2))
    assert timestamp(datetime(2031, 5, 14, 1, 2, 11, tzinfo=ahead)) == "2031-05-13T23:02:11.000Z"


def test_a_time_without_a_zone_is_refused() -> None:
    with pytest.raises(ValueError, match="time zone"):
        timestamp(datetime(2031, 5, 14))
