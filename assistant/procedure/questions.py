"""The questions that are the same whatever a step says beside their kind."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from assistant.language.questions import (
    AskDone,
    AskedByStep,
    AskMark,
    AskRotation,
    AskSpelling,
    AskYesNo,
)
from assistant.procedure.model import AskKind

__all__ = ["ALWAYS_THE_SAME"]

ALWAYS_THE_SAME: Mapping[AskKind, AskedByStep] = MappingProxyType(
    {
        AskKind.DONE: AskDone(),
        AskKind.YES_NO: AskYesNo(),
        AskKind.ROTATION: AskRotation(),
        AskKind.MARK: AskMark(),
        AskKind.SPELLING: AskSpelling(),
    }
)
"""By their kind."""
