"""Numbered updates: none is missed by a board that keeps up, none is waited for."""

from __future__ import annotations

import asyncio
from collections.abc import AsyncIterator

import pytest

from assistant.board.feed import KEPT, MOST_BEHIND, Feed, Update


def numbered(number: int) -> Update:
    return Update(number, f"view {number}")


def feed(newest: int = 0) -> Feed:
    made = Feed(numbered(0), sign_of_life=0.01)
    for number in range(1, newest + 1):
        made.publish(numbered(number))
    return made


async def numbers(
    updates: AsyncIterator[Update | None], count: int | None = None
) -> list[int | None]:
    found: list[int | None] = []
    async for update in updates:
        found.append(None if update is None else update.number)
        if len(found) == count:
            break
    return found


@pytest.mark.parametrize("after", [0, 3, 9, 10])
def test_a_board_that_comes_back_gets_everything_after_what_it_saw(after: int) -> None:
    async def come_back() -> list[int | None]:
        made = feed(10)
        made.end()
        return await numbers(made.follow(after))

    assert asyncio.run(come_back()) == list(range(after + 1, 11))


@pytest.mark.parametrize("after", [None, 11, 999])
def test_a_number_that_was_never_given_gets_the_newest_view(after: int | None) -> None:
    # So a board of an earlier run of the program, which counted anew, is not left with an old view.
    assert asyncio.run(numbers(feed(10).follow(after), 1)) == [10]


def test_what_is_too_old_is_not_kept() -> None:
    newest = KEPT + 50
    assert asyncio.run(numbers(feed(newest).follow(1), 1)) == [newest]


def test_quiet_is_broken_by_signs_of_life() -> None:
    assert asyncio.run(numbers(feed().follow(0), 2)) == [None, None]


def test_a_board_that_keeps_up_gets_every_update() -> None:
    async def keep_up() -> list[int | None]:
        made = Feed(numbered(0))
        updates = made.follow(0)
        found: list[int | None] = []
        for number in range(1, 101):
            made.publish(numbered(number))
            found += await numbers(updates_of(updates), 1)
        return found

    assert asyncio.run(keep_up()) == list(range(1, 101))


async def updates_of(updates: AsyncIterator[Update | None]) -> AsyncIterator[Update | None]:
    yield await anext(updates)


def test_a_board_that_reads_too_slowly_goes_on_with_the_newest() -> None:
    async def fall_behind() -> list[int | None]:
        made = Feed(numbered(0))
        updates = made.follow(None)
        found = await numbers(updates_of(updates), 1)
        for number in range(1, MOST_BEHIND + 3):
            made.publish(numbered(number))
        return found + await numbers(updates_of(updates), 1)

    assert asyncio.run(fall_behind()) == [0, MOST_BEHIND + 2]


def test_an_end_comes_after_the_newest_update() -> None:
    async def end() -> list[int | None]:
        made = feed(2)
        made.end()
        return await numbers(made.follow(1))

    assert asyncio.run(end()) == [2]
