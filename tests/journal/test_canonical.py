"""Canonical JSON against the examples of RFC 8785, SHA-256 against FIPS 180-4."""

from __future__ import annotations

import json
from math import inf
from typing import Any

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from assistant.journal.canonical import decode, digest, encode, is_canonical

SAMPLE = r"""
{
  "numbers": [333333333.33333329, 1E30, 4.50, 2e-3, 0.000000000000000000000000001],
  "string": "\u20ac$\u000F\u000aA'\u0042\u0022\u005c\\\"\/",
  "literals": [null, true, false]
}
"""
"""RFC 8785 §3.2.2."""

SAMPLE_BYTES = """
7b 22 6c 69 74 65 72 61 6c 73 22 3a 5b 6e 75 6c 6c 2c 74 72
75 65 2c 66 61 6c 73 65 5d 2c 22 6e 75 6d 62 65 72 73 22 3a
5b 33 33 33 33 33 33 33 33 33 2e 33 33 33 33 33 33 33 2c 31
65 2b 33 30 2c 34 2e 35 2c 30 2e 30 30 32 2c 31 65 2d 32 37
5d 2c 22 73 74 72 69 6e 67 22 3a 22 e2 82 ac 24 5c 75 30 30
30 66 5c 6e 41 27 42 5c 22 5c 5c 5c 5c 5c 22 2f 22 7d
"""
"""The same value's bytes: RFC 8785 §3.2.4."""

values = st.recursive(
    st.none()
    | st.booleans()
    | st.integers(-(2**53) + 1, 2**53 - 1)
    | st.floats(allow_nan=False, allow_infinity=False)
    | st.text(),
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(st.text(), inner, max_size=4),
    max_leaves=12,
)


def test_the_rfc_sample_gives_the_rfc_bytes() -> None:
    assert encode(decode(SAMPLE.encode())) == bytes.fromhex(SAMPLE_BYTES)


def test_numbers_of_the_sample() -> None:
    # RFC 8785 §3.2.2
    numbers = decode(b"[333333333.33333329,1E30,4.50,2e-3,1e-27]")
    assert encode(numbers) == b"[333333333.3333333,1e+30,4.5,0.002,1e-27]"


def test_names_are_sorted_by_utf_16_units() -> None:
    # RFC 8785 §3.2.3: the names in this order, whatever their order before.
    names = ["\r", "1", "\x80", "\xf6", "\u20ac", "\U0001f600", "\ufb33"]
    shuffled = dict.fromkeys(sorted(names), 0)
    assert list(json.loads(encode(shuffled))) == names
    assert sorted(names) != names


def test_sha_256_of_abc() -> None:
    # FIPS 180-4, the one-block example
    expected = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"
    assert digest(b"abc") == expected


@given(values)
def test_what_is_written_is_read_again_and_written_the_same(value: Any) -> None:
    data = encode(value)
    assert decode(data) == value
    assert encode(decode(data)) == data
    assert b"\n" not in data


def nested(depth: int) -> Any:
    value: Any = []
    for _ in range(depth):
        value = [value]
    return value


@pytest.mark.parametrize(
    "value",
    [float("nan"), float("inf"), 2**53, "\ud800", {"\ud800": 1}, {1: 2}, {1, 2}, nested(100_000)],
    ids=["nan", "infinity", "2**53", "surrogate", "surrogate name", "number", "set", "nested"],
)
def test_what_has_no_canonical_form_is_refused(value: Any) -> None:
    with pytest.raises(ValueError):
        encode(value)


@pytest.mark.parametrize(
    "data",
    [b"", b"{", b"NaN", b"[Infinity]", b"\xff", b"\xef\xbb\xbf{}", b"[" * 100_000, b"{} {}"],
    ids=["nothing", "half", "NaN", "Infinity", "no UTF-8", "byte order mark", "nested", "two"],
)
def test_what_is_not_json_is_refused(data: bytes) -> None:
    with pytest.raises(ValueError):
        decode(data)


@given(values)
def test_canonical_bytes_are_known_as_such(value: Any) -> None:
    data = encode(value)
    assert is_canonical(data, decode(data))


@given(
    values,
    st.sampled_from([{"indent": 1}, {"separators": (",", ":")}, {"ensure_ascii": False}, {}]),
    st.booleans(),
)
def test_other_bytes_of_a_value_are_canonical_only_where_they_are_the_same(
    value: Any, style: dict[str, Any], in_order: bool
) -> None:
    data = json.dumps(value, sort_keys=in_order, **style).encode()
    assert is_canonical(data, decode(data)) == (data == encode(value))


numbers = st.floats(allow_nan=False, allow_infinity=False) | st.integers(-(10**25), 10**25)


@given(st.lists(numbers, min_size=1), st.sampled_from(["{}", "{:.3e}", "{:.1f}", "{:.0f}"]))
def test_a_number_written_otherwise_is_not_canonical(listed: list[float], style: str) -> None:
    data = ("[" + ",".join(style.format(number) for number in listed) + "]").encode()
    value = decode(data)
    assume(inf not in map(abs, value))
    assert is_canonical(data, value) == (data == encode(value))


@pytest.mark.parametrize(
    ("data", "canonical"),
    [
        # RFC 8785 appendix B
        (b"[333333333.3333333]", True),
        (b"[333333333.33333329]", False),
        (b"[1e+30]", True),
        (b"[1E30]", False),
        (b"[0.000001]", True),
        (b"[1e-06]", False),
        (b"[100000000000000000000]", True),
        (b"[1e+20]", False),
        (b"[4.0]", False),
        (b"[0]", True),
        (b"[-0]", False),
        (b"[-0.0]", False),
        (b'{"a":1,"a":1}', False),
        (b'{"b":1,"a":1}', False),
        (b'["\\u0041"]', False),
        (b'["\\u20ac"]', False),
        (b'["\\u000f"]', True),
        (b'["\\u000F"]', False),
        (b'["\\/"]', False),
        (b'["\\ud800"]', False),
        (b"[1e999]", False),
        (b" [1]", False),
    ],
)
def test_one_form_of_a_value_is_canonical(data: bytes, canonical: bool) -> None:
    assert is_canonical(data, decode(data)) is canonical


def test_names_beyond_ascii_are_held_to_their_order() -> None:
    # RFC 8785 §3.2.3: U+1F600 is written with D83D, which comes before FB33.
    right, wrong = '{"\U0001f600":0,"\ufb33":0}'.encode(), '{"\ufb33":0,"\U0001f600":0}'.encode()
    assert is_canonical(right, decode(right))
    assert not is_canonical(wrong, decode(wrong))
