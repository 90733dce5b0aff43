"""Files on disk: each is checked as what it says it is, and named as the user would open it."""

from __future__ import annotations

from pathlib import Path

import pytest

from assistant.procedure.check_file import check_file
from assistant.procedure.located import LARGEST_FILE
from tests.procedure.refusals import END, HEAD, assert_told, part, problems_of, without_signs
from tests.procedure.shipped import KF_07


def refused(folder: Path, name: str, sample: str, *essences: str) -> None:
    file = folder / name
    text, places = without_signs(str(file), sample)
    file.parent.mkdir(exist_ok=True)
    file.write_text(text, encoding="utf-8")
    assert_told(problems_of(lambda: check_file(file)), places, essences)


@pytest.mark.parametrize(
    ("sample", "essence"),
    [
        ("¶name: x\n", "begin with one of"),
        ("¶unit: x\npart: y\n", "begin with one of"),
        ("¶just words\n", "the file must be made of lines"),
        (f"{HEAD}steps:\n  - step: a\n    say: The ¶{{unit.tga}}.\n{END}", "did you mean 'tag'?"),
        (
            KF_07.read_text(encoding="utf-8").replace("seating: t", "seating: ¶T"),
            "did you mean 'torque'?",
        ),
    ],
)
def test_a_procedure_and_a_unit_sheet(tmp_path: Path, sample: str, essence: str) -> None:
    refused(tmp_path, "f.yaml", sample, essence)


@pytest.mark.parametrize(
    ("steps", "essence"),
    [
        ("  - step: a\n    say: The ¶{rotr.name} end.\n", "did you mean 'rotor'?"),
        ("  - step: a\n    say: Hi.\n    go: ¶b\n", "goes to 'b'"),
        (
            "  - step: a\n    say: Hi.\n    go: return\n  - ¶step: b\n    say: Ho.\n",
            "never reached",
        ),
        ("  - ¶step: a\n    hold: Wait.\n    go: a\n", "can never lead to the end"),
        ("  - ¶step: a\n    say: Hi.\n    end: job\n", "go to 'return'"),
    ],
)
def test_a_part_alone(tmp_path: Path, steps: str, essence: str) -> None:
    refused(tmp_path, "p.yaml", part(steps), essence)


def test_a_part_without_inputs_and_one_that_calls_another(tmp_path: Path) -> None:
    (tmp_path / "p.yaml").write_text(part("  - step: a\n    say: Hi.\n", "{}"))
    (tmp_path / "q.yaml").write_text(
        part("  - step: a\n    call: p\n").replace("steps:", "parts: {p: p.yaml}\nsteps:")
    )
    check_file(tmp_path / "p.yaml")
    check_file(tmp_path / "q.yaml")


def test_a_part_that_calls_itself(tmp_path: Path) -> None:
    text = part("  - step: a\n    call: ¶p\n    with: {rotor: rotor}\n")
    refused(
        tmp_path, "p.yaml", text.replace("steps:", "parts: {p: p.yaml}\nsteps:"), "calls itself"
    )


def test_problems_of_a_part_are_told_in_its_own_file(tmp_path: Path) -> None:
    main = f"{HEAD}parts: {{p: parts/p.yaml}}\nsteps:\n  - step: a\n    call: p\n{END}"
    (tmp_path / "main.yaml").write_text(main)
    (tmp_path / "parts").mkdir()
    (tmp_path / "parts" / "p.yaml").write_text(part("  - step: a\n    sya: Hi.\n", "{}"))
    (problem,) = problems_of(lambda: check_file(tmp_path / "main.yaml"))
    assert str(problem.place) == f"{tmp_path / 'parts' / 'p.yaml'}:8:5"


@pytest.mark.parametrize(
    ("name", "essence"),
    [
        ("missing.yaml", "there is no such file"),
        ("folder", "this is no file"),
        ("x" * 300, "not readable"),
    ],
)
def test_what_is_no_file(tmp_path: Path, name: str, essence: str) -> None:
    (tmp_path / "folder").mkdir()
    for file in (tmp_path / name, Path("/dev/null") if name == "folder" else tmp_path / name):
        (problem,) = problems_of(lambda file=file: check_file(file))  # type: ignore[misc]
        assert problem.message.startswith(essence)
        assert str(problem.place) == f"{file}:1:1"


def test_a_part_that_is_a_folder_is_told_where_it_is_named(tmp_path: Path) -> None:
    main = f"{HEAD}parts: {{p: ¶parts}}\nsteps:\n  - step: a\n    call: p\n{END}"
    (tmp_path / "parts").mkdir()
    refused(tmp_path, "main.yaml", main, "parts: this is no file")


@pytest.mark.parametrize(
    ("content", "line", "column", "essence"),
    [
        (b"a: b\nc: d\xff\n", 2, 5, "save the file as UTF-8"),
        (b"\xef\xbb\xbfa: \xc3\xa9\xc3\n", 1, 5, "save the file as UTF-8"),
        ("unit: KF-07\n".encode("utf-16"), 1, 1, "save the file as UTF-8"),
        (b"a: b\nc: \x00\n", 2, 4, "U+0000"),
        (b"#" * (LARGEST_FILE + 1), 1, 1, "1 MiB"),
    ],
)
def test_bytes_that_are_no_text(
    tmp_path: Path, content: bytes, line: int, column: int, essence: str
) -> None:
    file = tmp_path / "f.yaml"
    file.write_bytes(content)
    (problem,) = problems_of(lambda: check_file(file))
    assert (problem.place.line, problem.place.column) == (line, column)
    assert essence in problem.message


def test_a_file_of_exactly_one_mebibyte_is_read(tmp_path: Path) -> None:
    sheet = KF_07.read_bytes()
    file = tmp_path / "f.yaml"
    file.write_bytes(sheet + b"#" * (LARGEST_FILE - len(sheet)))
    check_file(file)
