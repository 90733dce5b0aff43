"""``gloveside unit``: a sheet by questions, and its drawing."""

from __future__ import annotations

from pathlib import Path

from assistant.procedure.unit_sheet import load_unit
from tests.cli.command import KF_07, TOO_LONG, gloveside, spoiled
from tests.procedure.sheet_answers import answers_for

LINES = list(answers_for(load_unit(KF_07)))


def typed(lines: list[str]) -> str:
    return "".join(f"{line}\n" for line in lines)


def test_a_sheet_is_made_and_loads_and_the_next_commands_are_named(tmp_path: Path) -> None:
    file = tmp_path / "kf-99.yaml"
    outcome = gloveside("unit", "new", file, typed=typed(LINES))
    assert outcome.code == 0, outcome.err
    assert load_unit(file) == load_unit(KF_07)
    assert sorted(path.name for path in tmp_path.iterdir()) == ["kf-99.yaml", "unit.schema.json"]
    assert f"gloveside lint {file}" in outcome.out
    assert gloveside("lint", file).out == ""


def test_a_wrong_answer_is_asked_again_and_a_right_one_taken_back(tmp_path: Path) -> None:
    file = tmp_path / "kf-99.yaml"
    lines = ["--", "KF-9", "back", *LINES]
    outcome = gloveside("unit", "new", file, typed=typed(lines))
    assert outcome.code == 0, outcome.err
    assert "letters from A to Z" in outcome.out
    assert load_unit(file) == load_unit(KF_07)


def test_what_stops_it_loses_no_answer(tmp_path: Path) -> None:
    file = tmp_path / "kf-99.yaml"
    for begin in range(0, len(LINES), 9):
        outcome = gloveside("unit", "new", file, typed=typed(LINES[begin : begin + 9]))
        if begin + 9 < len(LINES):
            assert outcome.code == 3
            assert "the same command goes on" in outcome.err
    assert outcome.code == 0
    assert load_unit(file) == load_unit(KF_07)


def test_an_interrupt_keeps_the_draft(tmp_path: Path) -> None:
    file = tmp_path / "kf-99.yaml"
    interrupt = (
        "import builtins\n"
        "read = builtins.input\n"
        "def input(words):\n"
        "    if 'drawing' in words: raise KeyboardInterrupt\n"
        "    return read(words)\n"
        "builtins.input = input\n"
    )
    outcome = spoiled(interrupt, "unit", "new", file, typed=typed(LINES))
    assert outcome.code == 3
    assert gloveside("unit", "new", file, typed=typed(LINES[3:])).code == 0
    assert load_unit(file) == load_unit(KF_07)


def test_nothing_is_overwritten(tmp_path: Path) -> None:
    file = tmp_path / "kf-99.yaml"
    file.write_text("unit: KF-99\n")
    outcome = gloveside("unit", "new", file, typed=typed(LINES))
    assert outcome.code == 2
    assert "is there already" in outcome.err
    assert file.read_text() == "unit: KF-99\n"


def test_a_name_that_no_file_can_have(tmp_path: Path) -> None:
    outcome = gloveside("unit", "new", tmp_path / f"{TOO_LONG}.yaml")
    assert outcome.code == 2
    assert "cannot be looked at: File name too long; name another file" in outcome.err


def test_a_folder_that_is_not_there_and_a_damaged_draft(tmp_path: Path) -> None:
    assert "is no folder" in gloveside("unit", "new", tmp_path / "no" / "u.yaml").err
    for damage in ("[[", "3", '[["unit"], 4]', '{"a": 1}'):
        (tmp_path / "u.yaml.draft").write_text(damage)
        outcome = gloveside("unit", "new", tmp_path / "u.yaml")
        assert outcome.code in (2, 3), damage
        assert "draft" in outcome.err or "first answer" in outcome.err
    (tmp_path / "u.yaml.draft").write_text('[["unit", "KF-99"], ["drawing", "x"]]')
    outcome = gloveside("unit", "new", tmp_path / "u.yaml")
    assert "From drawing on it is asked anew" in outcome.out


def test_a_drawing_is_printed_or_written(tmp_path: Path) -> None:
    printed = gloveside("unit", "draw", KF_07)
    assert printed.code == 0
    assert printed.out.startswith("<svg ")
    target = tmp_path / "kf-07.svg"
    assert gloveside("unit", "draw", KF_07, "--output", target).code == 0
    assert target.read_text(encoding="utf-8") == printed.out
    assert gloveside("unit", "draw", KF_07, "--output", tmp_path / "no" / "a.svg").code == 2


def test_a_sheet_that_is_wrong_is_not_drawn(tmp_path: Path) -> None:
    sheet = tmp_path / "unit.yaml"
    sheet.write_text(KF_07.read_text().replace("seating: torque", "seating: torqe"))
    outcome = gloveside("unit", "draw", sheet)
    assert outcome.code == 2
    assert "did you mean 'torque'?" in outcome.err
    assert gloveside("unit").code == 2
