"""``gloveside schema``."""

from __future__ import annotations

from pathlib import Path

from tests.cli.command import ROOT, gloveside


def test_the_schemas_are_written_into_a_folder(tmp_path: Path) -> None:
    outcome = gloveside("schema", tmp_path)
    assert outcome.code == 0
    names = ["procedure.schema.json", "unit.schema.json"]
    assert outcome.out.split() == [str(tmp_path / name) for name in names]
    for name in names:
        assert (tmp_path / name).read_bytes() == (ROOT / "procedures" / name).read_bytes()


def test_a_folder_that_is_not_there(tmp_path: Path) -> None:
    outcome = gloveside("schema", tmp_path / "nowhere")
    assert outcome.code == 2
    assert "name a folder" in outcome.err
