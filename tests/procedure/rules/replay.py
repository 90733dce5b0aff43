"""Whether a way that was told with a finding can be gone in the procedure."""

from __future__ import annotations

import re
from collections.abc import Iterable

from assistant.procedure.program import Program
from assistant.procedure.ways import tells

__all__ = ["can_be_gone"]

_SILENT = re.compile(r"\((\d+) steps? with one way on\)")
_STEP = re.compile(r"\S+:\d+:\d+: ([^;]+)(?:.*; '([^']+)')?")


def can_be_gone(program: Program, way: tuple[str, ...], starts: Iterable[str]) -> bool:
    """Whether the lines of a way follow each other, from one of these steps on."""
    here = set(starts)
    for line in way:
        if silent := _SILENT.fullmatch(line):
            for _ in range(int(silent[1])):
                here = {there for name in here for there in _silently(program, name)}
            continue
        told = _STEP.match(line)
        assert told, line
        if told[1] not in here:
            return False
        targets = program.nodes[told[1]].targets
        here = {targets[told[2]]} if told[2] else set(targets.values())
    return True


def _silently(program: Program, name: str) -> set[str]:
    """Where a step leads that is only counted in a way."""
    node = program.nodes[name]
    return {there for outcome, there in node.targets.items() if not tells(node, outcome)}
