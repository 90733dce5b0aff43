"""Numbers as people say and write them."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.language.answers import AskNumber, grammar
from assistant.language.english import english
from assistant.language.grammar import Arc, Grammar
from assistant.language.meaning import Meaning, Quantity
from assistant.language.speaking import say_number


def understood(unit: str | None, text: str) -> Meaning | None:
    return grammar(AskNumber(unit), english()).parse(text)


# The plain sense of the English; no source.
@pytest.mark.parametrize(
    ("unit", "text", "value"),
    [
        ("turns", "half", 0.5),
        ("turns", "one half", 0.5),
        ("turns", "half a turn", 0.5),
        ("turns", "a half turn", 0.5),
        ("turns", "a quarter of a turn", 0.25),
        ("turns", "three quarters of a turn", 0.75),
        ("turns", "one and a half turns", 1.5),
        ("turns", "1 1/2 turns", 1.5),
        ("turns", "1½", 1.5),
        ("turns", "twenty eight and three quarters", 28.75),
        ("turns", "Twenty-five turns.", 25),
        ("turns", "25", 25),
        ("turns", "one turn", 1),
        ("turns", "twenty niner turns", 29),
        ("turns", "nought point five turns", 0.5),
        ("turns", "zero", 0),
        ("turns", "ninety nine", 99),
        ("turn", "two turns", 2),
        ("%", "two point four percent", 2.4),
        ("%", "98.4%", 98.4),
        ("percent", "98.4 %", 98.4),
        ("%", "ninety eight point four", 98.4),
        ("%", "two point oh five percent", 2.05),
        ("%", "2.45", 2.45),
        ("%", "half a percent", 0.5),
        ("seconds", "fifty point eight seconds", 50.8),
        ("revolutions", "fife revolutions", 5),
        (None, "ninety eight point four", 98.4),
        (None, "thirteen", 13),
        ("newton metres", "forty one newton metres", 41),
        ("Nm", "forty point five newton meters", 40.5),
        ("litres", "half a liter", 0.5),
        ("millilitres", "250 millilitres", 250),
        ("kilograms", "one and a half kilograms", 1.5),
        ("volts", "two hundred and thirty volts", 230),
        ("hours", "one hour", 1),
        ("pieces", "three pieces", 3),
        ("pieces", "one piece", 1),
        ("turns", "one hundred turns", 100),
        ("turns", "100", 100),
        ("turns", "two hundred", 200),
        ("turns", "a hundred and five", 105),
        ("turns", "one hundred and twenty turns", 120),
        ("turns", "one hundred twenty", 120),
        ("turns", "120", 120),
        ("turns", "120.25 turns", 120.25),
        ("turns", "28.75", 28.75),
        ("turns", "120 1/2", 120.5),
        ("turns", "a hundred and a half turns", 100.5),
        ("turns", "two hundred and three quarters turns", 200.75),
        ("turns", "niner hundred ninety niner", 999),
        ("seconds", "two hundred and seven point oh five", 207.05),
        ("revolutions", "ten turns", 10),  # of a shaft
        ("rpm", "one hundred and twenty turns a minute", 120),
        ("turns a minute", "200", 200),
        ("mm", "twelve point five millimetres", 12.5),
        ("minutes", "one and a half minutes", 1.5),
        ("grams", "250 grams", 250),
        ("degrees", "ninety degrees", 90),
        ("bar", "six bar", 6),
    ],
)
def test_phrases(unit: str | None, text: str, value: float) -> None:
    assert understood(unit, text) == Quantity(value, unit)


@pytest.mark.parametrize(
    ("unit", "text"),
    [
        ("turns", "two percent"),  # another unit
        (None, "two turns"),
        ("turns", "turns"),
        ("turns", "half a"),
        ("turns", "point five"),  # the beginning may be lost: two point five
        ("turns", "oh"),
        ("turns", "minus two turns"),
        ("turns", "-2 turns"),
        ("turns", "hundred"),
        ("turns", "hundred turns"),
        ("turns", "zero hundred"),
        ("turns", "twenty hundred"),
        ("turns", "one hundred and"),
        ("turns", "one hundred and zero"),
        ("turns", "one hundred hundred"),
        ("turns", "one hundred one hundred"),
        ("turns", "one hundred 120"),
        ("turns", "one twenty"),
        ("turns", "1000"),
        ("turns", "012"),
        ("turns", "one thousand"),
        ("turns", "twenty eleven"),
        ("turns", "two three"),
        ("turns", "two and"),
        ("turns", "two point"),
        ("turns", "one point two three four"),
        ("turns", "2.345"),
        ("turns", "two point five and a half"),
        ("turns", "two turns three turns"),
    ],
)
def test_what_is_not_understood(unit: str | None, text: str) -> None:
    assert understood(unit, text) is None


@pytest.mark.parametrize("unit", ["turns", "%", None])
@pytest.mark.parametrize("hundreds", range(10))
def test_what_is_said_is_understood_from_0_to_999_in_quarters(
    unit: str | None, hundreds: int
) -> None:
    for quarters in range(400 * hundreds, 400 * (hundreds + 1)):
        value = quarters / 4
        assert understood(unit, say_number(value, unit)) == Quantity(value, unit)
        assert understood(unit, f"{value:g}") == Quantity(value, unit)


def test_the_words_below_one_hundred_stand_once_in_the_graph() -> None:
    spoken = grammar(AskNumber("turns"), english())
    tens = [arc for arc in reached(spoken) if arc.term.spoken == "fifty two"]
    assert len(tens) == 1


def reached(spoken: Grammar) -> set[Arc]:
    waiting, arcs = [spoken.start], set[Arc]()
    for node in waiting:
        fresh = set(spoken.arcs(node)) - arcs
        waiting.extend({arc.target for arc in fresh} - set(waiting))
        arcs |= fresh
    return arcs


@given(st.integers(0, 99999), st.sampled_from(["%", "seconds", None]))
def test_figures_mean_what_they_say(hundredths: int, unit: str | None) -> None:
    whole, decimals = divmod(hundredths, 100)
    assert understood(unit, f"{whole}.{decimals:02}") == Quantity(hundredths / 100, unit)
    assert understood(unit, str(whole)) == Quantity(whole, unit)


@given(st.integers(0, 3999), st.sampled_from(["turns", "revolutions", "minutes"]))
def test_figures_of_what_is_told_in_quarters(quarters: int, unit: str) -> None:
    assert understood(unit, f"{quarters / 4:g}") == Quantity(quarters / 4, unit)


@pytest.mark.parametrize("text", ["15.20", "two point four turns", "46.04 turns", "1.7", "2.50"])
def test_turns_are_told_in_quarters_and_in_no_other_part(text: str) -> None:
    assert understood("turns", text) is None


def test_a_unit_without_words_is_refused_by_name() -> None:
    with pytest.raises(ValueError, match=r"furlongs.*turns"):
        grammar(AskNumber("furlongs"), english())


@pytest.mark.parametrize(
    "text", ["two and a half pieces", "half a piece", "a quarter", "two point five", "2.5 pieces"]
)
def test_what_is_counted_has_no_parts(text: str) -> None:
    assert understood("pieces", text) is None
