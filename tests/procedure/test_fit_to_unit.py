"""A procedure is refused for a unit that lacks what it asks for."""

from __future__ import annotations

from assistant.procedure.fit import check_fit
from assistant.procedure.unit_sheet import load_unit, read_unit
from assistant.trade.unit import Unit
from tests.procedure.refusals import (
    END,
    FOLDER,
    HEAD,
    MAIN,
    assert_told,
    load,
    part,
    problems_of,
    without_signs,
)
from tests.procedure.shipped import KF_07, KF_12

PARTS = "parts: {p: p.yaml}\n"

SPELL = """\
  - step: s
    say: Spell it.
    ask: spelling
    expect: ¶unit.drawing
    go: {match: return, mismatch: return}
"""


def call(rotor: str) -> str:
    return f"{HEAD}{PARTS}steps:\n  - step: a\n    call: p\n    with: {{rotor: {rotor}}}\n{END}"


def refused(main: str, called: str, unit: Unit, *essences: str) -> None:
    main, places = without_signs(f"{FOLDER}/{MAIN}", main)
    called, more = without_signs(f"{FOLDER}/p.yaml", called)
    program = load({MAIN: main, "p.yaml": called})
    assert_told(problems_of(lambda: check_fit(program, unit)), places + more, essences)


def test_a_rotor_that_the_unit_does_not_have() -> None:
    tell = part("  - step: b\n    say: The {rotor.name} end.\n")
    message = "KF-07 has no rotor 'third'; known here: closed, open"
    refused(call("¶third"), tell, load_unit(KF_07), message)


def test_a_rotor_behind_a_branch_that_the_unit_never_takes_is_not_asked_of_it() -> None:
    steps = """\
  - step: count
    branch: unit.rotor-count
    go: {two: finish, four: a}
"""
    main = call("third").replace("steps:\n", f"steps:\n{steps}")
    program = load({MAIN: main, "p.yaml": part("  - step: b\n    say: The {rotor.name}.\n")})
    check_fit(program, load_unit(KF_07))
    check_fit(program, load_unit(KF_12))


def test_without_a_unit_nothing_of_a_unit_can_be_asked() -> None:
    text = f"{HEAD}steps:\n  - step: a\n    say: Look at ¶{{unit.tag}}.\n{END}"
    main, places = without_signs(f"{FOLDER}/{MAIN}", text)
    told = problems_of(lambda: check_fit(load({MAIN: main}), None))
    assert_told(told, places, ("needs a unit sheet: name one with --unit",))


def test_what_is_too_long_to_be_spelled() -> None:
    sheet = KF_07.read_text(encoding="utf-8")
    longest = read_unit(sheet.replace("KF-E-207", "ABCD-1234-EFGH"), "u.yaml")
    longer = read_unit(sheet.replace("KF-E-207", "ABCD-1234-EFGHI"), "u.yaml")
    refused(call("open"), part(SPELL), longer, "has 13 letters and digits; at most 12")
    check_fit(load({MAIN: call("open"), "p.yaml": part(SPELL.replace("¶", ""))}), longest)


COUNT = """\
  - step: s
    say: Count. How many turns?
    ask: number
    unit: turns
    least: 0
    most: ¶unit.most-turns
    go: return
"""


def of_stroke(turns: int) -> Unit:
    """KF-07 with a longer stroke, its trips drawn at the same places."""
    text = KF_07.read_text(encoding="utf-8")
    for name, value in (("stroke-turns", 62), ("back-off-open", 1), ("back-off-torque", 1.5)):
        before = f"{name}: {{value: {value},"
        assert before in text
        text = text.replace(before, f"{name}: {{value: {value * turns / 62:.2f},")
    return read_unit(text, "longer.yaml")


def test_a_stroke_that_is_longer_than_can_be_said() -> None:
    message = "1240 turns of KF-07 are counted and said here; at most 999 can be said"
    refused(call("open"), part(COUNT), of_stroke(1240), message)
    program = load({MAIN: call("open"), "p.yaml": part(COUNT.replace("¶", ""))})
    check_fit(program, of_stroke(999))
