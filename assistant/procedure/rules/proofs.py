"""Whether an answer shows what a step says that it proves."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from assistant.procedure.deeds import ActKind, Fact
from assistant.procedure.model import Step

__all__ = ["unfit"]

_SHOWN_BY: Mapping[Fact, ActKind] = {
    Fact.RODS_ENGAGED: ActKind.TRY_SHAFTS,
    Fact.ROTATION_RIGHT: ActKind.JOG,
}
"""What has to be done for an answer to show a fact; the others are shown by what people say."""

_AGAINST = frozenset({"no", "not-agreed", "free", "moved", "loose", "live", "not-at-all"})
"""Answers that prove nothing that somebody hopes for; common practice, no source."""

_OTHER_WAY: Mapping[str, str] = {"opening": "closed", "closing": "open"}
"""For each direction of a jog the answer that shows the motor to turn the wrong way."""


def unfit(step: Step, outcome: str) -> Iterator[tuple[Fact, str]]:
    """The facts that an outcome of a step is to prove and does not show, each with the reason.

    Args:
        step: the step.
        outcome: the outcome by which it is left.
    """
    for fact in step.proves.get(outcome, ()):
        act = _SHOWN_BY.get(fact)
        tried = {one.kind for one in step.acts} & set(_SHOWN_BY.values())
        if act is not None and act not in tried:
            yield fact, f"only a step that has it done shows that: add 'does: {act}' to it"
        elif act is None and tried:
            yield fact, "what is tried at this step shows something else: ask for it by itself"
        elif outcome in _AGAINST or outcome in _against_the_jog(step):
            yield fact, f"the answer '{outcome}' says the contrary: name the answer that shows it"


def _against_the_jog(step: Step) -> frozenset[str]:
    """The answers that tell that the motor turned the wrong way."""
    return frozenset(
        _OTHER_WAY[reference.path[-1]]
        for act in step.acts
        if act.kind is ActKind.JOG
        for _, reference in act.arguments
        if reference.path[-1] in _OTHER_WAY
    )
