"""ONNX graphs of the models, loaded; the one way to the library that runs them.

Some builds of ONNX Runtime count how they are used: they keep an identity of the machine in the
user's cache and look for a server. Here nothing leaves the machine and no network is used, so that
is switched off before the library is loaded.
"""

from __future__ import annotations

import os
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any, Protocol

os.environ["ORT_DISABLE_TELEMETRY"] = "1"

import onnxruntime as ort

from assistant.speech.errors import ModelError

__all__ = ["Graph", "load_graph"]


class Graph(Protocol):
    """A graph, loaded."""

    def run(self, outputs: Sequence[str] | None, feeds: Mapping[str, Any]) -> list[Any]:
        """The outputs of these names, all for None, from the inputs by their names."""

    def get_inputs(self) -> Sequence[Any]:
        """Its inputs, each with `name` and `shape`."""

    def get_outputs(self) -> Sequence[Any]:
        """Its outputs."""


def load_graph(file: Path, threads: int) -> Graph:
    """Load a graph, for the processor.

    Args:
        file: in the folder of its model.
        threads: that work on one call at most.

    Raises:
        ModelError: the file is missing or cannot be loaded.
    """
    options = ort.SessionOptions()
    options.intra_op_num_threads = min(threads, os.cpu_count() or 1)
    # Threads that spin while they wait take the processor from whoever shares it, and gain nothing.
    options.add_session_config_entry("session.intra_op.allow_spinning", "0")
    # An arena keeps for good what the longest utterance took; without it nothing is slower.
    options.enable_cpu_mem_arena = False
    options.log_severity_level = 3
    try:
        graph: Graph = ort.InferenceSession(str(file), options, providers=["CPUExecutionProvider"])
    except Exception as error:  # the library has no common base class for its errors
        model = file.resolve().parent.name
        raise ModelError(f"{file}: cannot be loaded; run: gloveside model fetch {model}") from error
    return graph
