"""Unit sheets: each fault is told at the line where it stands. The rules are this project's; four
contacts a rotor, two or four rotors and contacts 1 to 16 are common practice, no source."""

from __future__ import annotations

import pytest

from assistant.procedure.unit_sheet import read_unit
from assistant.trade.motion import Travel
from assistant.trade.unit import Place, Seating, Sourced
from tests.procedure.refusals import assert_told, problems_of, without_signs

SHEET = """\
unit: KF-99
service: Trial gate
drawing: KF-E-299
revision: A
seating: torque
numbers:
  stroke-turns: {value: 40, origin: counted}
rotors:
  open: {contacts: [1, 2], set-at: open end, set-while: opening}
  closed: {contacts: [5, 6], set-at: closed end, set-while: closing}
contacts:
  1: [[98, 100]]
  2: [[0, 98]]
  5: [[0, 3.75]]
  6: [[3.75, 100]]
lamps:
  open lamp: {colour: red, contact: 6}
"""


def refused(old: str, new: str, *essences: str) -> None:
    """The sheet with one line changed is refused at the signs in it."""
    assert old in SHEET
    text, places = without_signs("u.yaml", SHEET.replace(old, new, 1))
    assert_told(problems_of(lambda: read_unit(text, "u.yaml")), places, essences)


def test_the_sheet_before_anything_is_spoiled() -> None:
    unit = read_unit(SHEET, "u.yaml")
    assert (unit.tag, unit.drawing, unit.revision) == ("KF-99", "KF-E-299", "A")
    assert unit.seating is Seating.TORQUE
    assert [rotor.name for rotor in unit.rotors] == ["open", "closed"]
    assert unit.rotors[1].place is Place.CLOSED_END
    assert unit.rotors[1].set_while is Travel.CLOSING
    assert unit.development.closed[6] == ((3.75, 100),)
    assert (unit.stroke_turns.value, unit.stroke_turns.origin) == (40, "counted")
    assert unit.cycle_revolutions is None


def test_what_is_read_or_heard_is_not_cut_off_by_a_comment() -> None:
    refused("Trial gate", "Gate of pump ¶#2", "'service': the text ends at '#'")
    refused("origin: counted", "origin: by sheet ¶#2\n    ", "'origin': the text ends at '#'")
    read_unit(SHEET.replace("unit: KF-99", "unit: KF-99  # the gate of pump 2"), "u.yaml")


@pytest.mark.parametrize(
    "spoken",
    [
        "kilo foxtrot nine nine",
        "Kilo Foxtrot ninety-nine",
        "kilo foxtrot dash niner 9",
        "the gate of pump two",
        "pump kilo foxtrot nine eight",
    ],
)
def test_a_tag_is_spoken_as_it_is_spelled_or_by_a_name_of_the_site(spoken: str) -> None:
    text = SHEET.replace("unit: KF-99", f"unit: KF-99\nspoken: {spoken}")
    assert read_unit(text, "u.yaml").spoken == spoken


def test_silent_numbers_are_those_of_common_practice_and_say_so() -> None:
    unit = read_unit(SHEET, "u.yaml")
    # 1, 1.5 and 0.5 turns: common practice, no source. 0.5 %: this project's default.
    assert [number.value for number in unit.back_offs.values()] == [1, 1.5, 0.5]
    assert {number.origin for number in unit.back_offs.values()} == {"common practice"}
    assert unit.tolerance.value == 0.5


@pytest.mark.parametrize(
    ("old", "new", "essence"),
    [
        ("seating: torque", "seating: torque\nbypass-contact: ¶five", "from 1 to 16"),
        ("unit: KF-99\nservice", "¶service", "needs 'unit:'"),
        ("lamps:", "¶lampz:", "did you mean 'lamps'?"),
        ("seating: torque", "seating: ¶torqe", "did you mean 'torque'?"),
        ("unit: KF-99", "unit: KF-99\nspoken: ¶kilo foxtrot nine eight", "spells KF98"),
        ("unit: KF-99", "unit: KF-99\nspoken: ¶kilo foxtrot", "the valve is 'KF-99'"),
        ("unit: KF-99", "unit: KF-99\nspoken: ¶kilo foxtrot 98", "'kilo foxtrot nine nine'"),
        ("unit: KF-99", "unit: ¶'--'", "letters from A to Z"),
        ("unit: KF-99", "unit: ¶KÉ-99", "letters from A to Z"),
        ("stroke-turns", "¶stroke-trns", "did you mean 'stroke-turns'?"),
        ("value: 40", "value: ¶forty", "'value' must be a number"),
        ("value: 40", "value: ¶.inf", "'value' must be a number"),
        ("value: 40", "value: ¶1e999", "'value' must be a number"),
        ("{value: 40, origin: counted}", "¶{value: 40}", "needs 'origin:'"),
        ("{value: 40, origin: counted}", "¶40", "write '{value: 40, origin: …}'"),
        ("{value: 40, origin: counted}", "¶forty", "write '{value: 1.5, origin: …}'"),
        ("value: 40", "value: 1,¶5", "the comma ends the number: write '1.5', with a point"),
        ("set-at: open end", "set-at: ¶open", "did you mean 'open end'?"),
        ("set-while: opening", "set-while: ¶open", "did you mean 'opening'?"),
        ("[1, 2]", "[1, ¶one]", "a number from 1 to 16"),
        ("[1, 2]", "[1, ¶[2]]", "a contact must be a text"),
        ("[1, 2]", "¶1", "must be a list"),
        ("  1: ", "  ¶01: ", "not '01'"),
        ("  1: ", "  ¶-1: ", "not '-1'"),
        ("  1: ", "  ¶\u0661: ", "a number from 1 to 16"),
        ("  2: ", "  ¶1: ", "stands twice, first in line 12"),
        ("[[98, 100]]", "[¶98, ¶100]", "[from, to]"),
        ("[[98, 100]]", "[¶[98]]", "[from, to]"),
        ("[[98, 100]]", "[[¶low, 100]]", "must be a number"),
        ("[[98, 100]]", "¶98 to 100", "must be a list"),
        ("contact: 6", "contact: ¶six", "a number from 1 to 16"),
        ("{colour: red, contact: 6}", "¶{contact: 6}", "needs 'colour:'"),
    ],
)
def test_what_is_not_written_as_it_should_be(old: str, new: str, essence: str) -> None:
    refused(old, new, *[essence] * new.count("¶"))


def test_what_a_sheet_may_state_besides() -> None:
    text = SHEET.replace("seating: torque", "seating: torque\nbypass-contact: 5").replace(
        "rotors:", "  stroke-seconds: {value: 30, origin: site}\nrotors:", 1
    )
    unit = read_unit(text, "u.yaml")
    assert unit.bypass == 5
    assert unit.stroke_seconds == Sourced(30, "seconds", "site")
    assert unit.stroke_time_tolerance.value == 10  # This project's default.
    silent = read_unit(SHEET, "u.yaml")
    assert (silent.bypass, silent.stroke_seconds) == (None, None)


DRIVE = """\
  stem-travel: {value: 304.8, origin: data plate}
  gear-ratio: {value: 60, origin: data plate}
  motor-speed: {value: 1700, origin: data plate}
  stem-lead: {value: 12.7, origin: data plate}
rotors:
"""


def test_the_time_of_a_stroke_from_the_drive_data() -> None:
    # 12 in, 60 to 1, 1700 rpm and 0.5 in for a revolution give 50.8 seconds (arithmetic).
    unit = read_unit(SHEET.replace("rotors:\n", DRIVE, 1), "u.yaml")
    assert unit.stroke_seconds is not None
    assert round(unit.stroke_seconds.value, 1) == 50.8


@pytest.mark.parametrize("name", ["stem-travel", "gear-ratio", "motor-speed", "stem-lead"])
def test_drive_data_are_all_stated_or_none(name: str) -> None:
    lines = [line for line in DRIVE.splitlines(keepends=True) if name not in line]
    text = SHEET.replace("rotors:\n", "".join(lines), 1)
    (problem,) = problems_of(lambda: read_unit(text, "u.yaml"))
    assert name in problem.message


@pytest.mark.parametrize("name", ["numbers", "rotors", "contacts"])
def test_what_must_be_there(name: str) -> None:
    text = SHEET.replace(f"\n{name}:", f"\nother-{name[::-1]}:")
    (problem,) = problems_of(lambda: read_unit(text, "u.yaml"))
    assert str(problem) == f"u.yaml:1:1: error a unit sheet needs '{name}:' (missing-field)"


@pytest.mark.parametrize(
    ("sheet", "essences"),
    [
        (
            SHEET.replace("  open:", "  ¶open:").replace("[0, 98]", "[0, 97]"),
            ["contact 1 at 98 %, contact 2 at 97 %"],
        ),
        (
            SHEET.replace("  open: {contacts: [1, 2]", "  ¶open: {contacts: [1, 2, 5]").replace(
                "  5: [", "  ¶5: ["
            ),
            ["contacts 1 and 2 at 98 %, contact 5 at 3.75 %", "it is on open and closed"],
        ),
        (
            SHEET.replace("  5: [", "  ¶3: [[0, 98]]\n  5: ["),
            ["must be on one rotor; it is on none"],
        ),
        (SHEET.replace("  1: [[98, 100]]", "  ¶1: [[98, 101]]"), ["lie within 0 to 100 %"]),
        (SHEET.replace("  1: [[98, 100]]", "  ¶1: [[-1, 98]]"), ["lie within 0 to 100 %"]),
        (SHEET.replace("  1: [[98, 100]]", "  ¶1: [[100, 98]]"), ["must rise"]),
        (SHEET.replace("  1: [[98, 100]]", "  ¶1: [[0, 100]]"), ["change over once"]),
        (SHEET.replace("  1: [[98, 100]]", "  ¶1: []"), ["change over once"]),
        (
            SHEET.replace("  5: [", "  ¶¶17: [[0, 98]]\n  5: ["),
            ["numbered 1 to 16", "must be on one rotor; it is on none"],
        ),
        (
            SHEET.replace("  open: {contacts: [1, 2]", "  ¶open: {contacts: [1, 2, 3]"),
            ["contact 3 has no line"],
        ),
        (
            SHEET.replace("  open:", "  ¶open:").replace("while: opening", "while: closing"),
            ["set while opening"],
        ),
        (
            SHEET.replace("rotors:", "¶rotors:")
            .replace("  closed: {contacts: [5, 6], set-at: closed end, set-while: closing}\n", "")
            .replace("  5: [", "  ¶5: [")
            .replace("  6: [", "  ¶6: ["),
            ["two or four rotors, not 1", "contacts 5: must be on", "contacts 6: must be on"],
        ),
        (
            SHEET.replace("  open lamp:", "  ¶open lamp:").replace("contact: 6", "contact: 7"),
            ["lamps open lamp: contact 7 has no line"],
        ),
        (
            SHEET.replace("  stroke-turns: {value: 40", "  ¶stroke-turns: {value: -40").replace(
                "numbers:", "¶¶¶numbers:"
            ),
            [
                "back-off-open",
                "back-off-position",
                "back-off-torque",
                "stroke-turns: must be greater",
            ],
        ),
        (
            SHEET.replace("rotors:", "  ¶back-off-torque: {value: 40, origin: site}\nrotors:", 1),
            ["numbers back-off-torque: must be fewer turns than the full stroke"],
        ),
        (
            SHEET.replace("seating: torque", "seating: torque\n¶bypass-contact: 1"),
            ["bypass-contact: contact 1 must be closed at the closed end"],
        ),
        (
            # Half a turn of 40 is 1.25 % (arithmetic).
            SHEET.replace("seating: torque", "seating: position").replace(
                "  closed:", "  ¶closed:"
            ),
            ["drawn at 3.75 %, but 0.5 turns from the stop is 1.25 %: one of them is wrong"],
        ),
    ],
)
def test_what_a_drawing_cannot_show_is_told_at_its_line(sheet: str, essences: list[str]) -> None:
    text, places = without_signs("u.yaml", sheet)
    assert_told(problems_of(lambda: read_unit(text, "u.yaml")), places, tuple(essences))
