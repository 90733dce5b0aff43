"""The hash tree against RFC 6962 §2.1."""

from __future__ import annotations

import hashlib

from hypothesis import given
from hypothesis import strategies as st

from assistant.journal.tree import root, roots

leaves = st.lists(st.binary(max_size=8), max_size=40)


def defined(entries: list[bytes]) -> bytes:
    """The Merkle tree hash as RFC 6962 §2.1 defines it, word for word."""
    if not entries:
        return hashlib.sha256(b"").digest()
    if len(entries) == 1:
        return hashlib.sha256(b"\x00" + entries[0]).digest()
    k = 1
    while 2 * k < len(entries):
        k *= 2
    return hashlib.sha256(b"\x01" + defined(entries[:k]) + defined(entries[k:])).digest()


def test_no_leaf_and_one_empty_leaf() -> None:
    # RFC 6962 §2.1: SHA-256 of nothing, and of one byte 0.
    assert root([]) == "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855"
    assert root([b""]) == "6e340b9cffb37a989ca544e6bb780a2c78901d3fb33738768511a30617afa01d"


@given(leaves)
def test_the_root_is_that_of_the_recursive_definition(entries: list[bytes]) -> None:
    assert root(entries) == defined(entries).hex()


@given(leaves)
def test_the_roots_are_those_of_each_beginning(entries: list[bytes]) -> None:
    expected = [defined(entries[:count]).hex() for count in range(1, len(entries) + 1)]
    assert list(roots(entries)) == expected


@given(st.binary(max_size=8), st.binary(max_size=8))
def test_two_branches_do_not_pass_for_a_leaf(one: bytes, other: bytes) -> None:
    # RFC 6962 §2.1: the two prefixes are there against a second preimage.
    hashes = (hashlib.sha256(b"\x00" + leaf).digest() for leaf in (one, other))
    assert root([b"".join(hashes)]) != root([one, other])
