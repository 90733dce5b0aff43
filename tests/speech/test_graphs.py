"""The library that runs the models: it is loaded in one way, and tells nobody that it is used."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

from assistant.speech.errors import ModelError
from assistant.speech.graphs import load_graph
from assistant.speech.models.catalogue import models_folder

GRAPH = models_folder() / "silero-vad" / "silero_vad_16k_op15.onnx"

SOURCES = Path(__file__).parents[2] / "assistant"

LOADING = """
import pathlib, sys
from assistant.speech.graphs import load_graph
load_graph(pathlib.Path(sys.argv[1]), threads=1)
"""


@pytest.mark.skipif(not GRAPH.exists(), reason="gloveside model fetch")
def test_it_keeps_no_identity_of_the_machine(tmp_path: Path) -> None:
    homes = {"HOME": str(tmp_path), "XDG_CACHE_HOME": str(tmp_path / "cache")}
    environment = {**os.environ, **homes}
    environment.pop("ORT_DISABLE_TELEMETRY", None)
    subprocess.run([sys.executable, "-c", LOADING, str(GRAPH)], check=True, env=environment)
    assert list(tmp_path.rglob("*")) == []


def test_no_other_module_loads_it() -> None:
    loading = [file for file in SOURCES.rglob("*.py") if "import onnxruntime" in file.read_text()]
    assert [file.name for file in loading] == ["graphs.py"]


def test_a_file_that_is_no_graph_is_refused(tmp_path: Path) -> None:
    file = tmp_path / "some-model" / "graph.onnx"
    file.parent.mkdir()
    file.write_bytes(b"no graph")
    with pytest.raises(ModelError, match="gloveside model fetch some-model"):
        load_graph(file, threads=1)
