from __future__ import annotations

from assistant import trade


def test_every_name_that_the_floor_offers_is_there() -> None:
    assert [name for name in trade.__all__ if not hasattr(trade, name)] == []
