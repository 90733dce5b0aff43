"""The first few hundred of the spoiled files that `mutated_files` lints by the ten thousand."""

from __future__ import annotations

from pathlib import Path

from tests.procedure.mutated_files import LONGEST_SECONDS, outcomes

FEW = 300


def test_no_spoiled_file_makes_lint_fail_or_hang(tmp_path: Path) -> None:
    seen = list(outcomes(FEW, tmp_path))
    assert max(one.seconds for one in seen) < LONGEST_SECONDS
    assert {one.kind for one in seen} == {"refused", "judged", "clean"}
