"""A thousand malformed files: each is refused with places, none is a traceback or takes long."""

from __future__ import annotations

import shutil
import time
from collections.abc import Callable
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from assistant.procedure.check_file import check_file
from assistant.procedure.problems import FileRefused
from assistant.procedure.read_file import read_procedure
from assistant.procedure.unit_sheet import read_unit
from tests.procedure.shipped import FLAGSHIP, PROCEDURES
from tests.procedure.spoiling import spoiled_files

HOW_MANY = 1000
LONGEST_SECONDS = 2.0


def problem_seconds(file: Path, folder: Path) -> float | None:
    """How long it took to refuse a file; None where it is still right."""
    begun = time.process_time()
    try:
        check_file(file)
    except FileRefused as refused:
        took = time.process_time() - begun
        assert refused.problems
        for problem in refused.problems:
            assert Path(problem.place.file).is_relative_to(folder)
            assert problem.place.line >= 1
            assert problem.place.column >= 1
            assert problem.message.strip()
            assert "\n" not in problem.message
            str(problem).encode("utf-8")  # what cannot be printed would be a traceback later
        return took
    return None


def test_a_thousand_malformed_files_are_refused_with_places(tmp_path: Path) -> None:
    folder = tmp_path / "procedures"
    shutil.copytree(PROCEDURES, folder)
    refused = drawn = 0
    for file, spoil, content in spoiled_files():
        drawn += 1
        copy = folder / file.relative_to(PROCEDURES)
        copy.write_bytes(content)
        is_sheet = file.parent.name == "units"
        seconds = problem_seconds(copy if is_sheet else folder / FLAGSHIP.name, folder)
        shutil.copyfile(file, copy)
        if seconds is not None:
            refused += 1
            assert seconds < LONGEST_SECONDS, (file.name, spoil.__name__, seconds)
        if refused == HOW_MANY:
            break
    assert drawn < 2 * HOW_MANY, "too many of the spoiled files were still right"


@pytest.mark.parametrize("read", [read_procedure, read_unit])
@given(text=st.text())
@settings(max_examples=200, derandomize=True, deadline=None)
def test_any_text_is_refused_with_a_place(read: Callable[[str, str], object], text: str) -> None:
    with pytest.raises(FileRefused) as caught:
        read(text, "f.yaml")
    for problem in caught.value.problems:
        assert problem.place.line >= 1
        assert problem.place.column >= 1
        assert problem.message.strip()
