"""Come to a step by playing what lies before it.

A step needs the values, the rig and the facts that the steps before it give. So a jump plays them,
answered as the rig shows: on from where the job stands if that leads there, else from the
beginning. What is skipped by it is the writer's typing, and nothing else.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field

from assistant.language.meaning import Meaning
from assistant.procedure.fields import nearest, quoted
from assistant.rehearsal.following import follow
from assistant.rehearsal.rehearsal import Exchange, Rehearsal
from assistant.rig.technician import MOST_HOLDS
from assistant.session.effects import Begun

__all__ = ["Jump", "StepError", "find_step", "jump"]

MOST_REPLIES = 600
"""After so many a step counts as not reached."""


class StepError(ValueError):
    """No step, or more than one, is called so; the message names what is near."""


@dataclass(slots=True)
class Jump:
    """How a step was reached.

    Args:
        rehearsal: the job, at the step.
        from_start: whether it was played from the beginning.
        answered: the steps that were answered in the writer's stead, and how.
        taken: those of them that the rig does not tell.
    """

    rehearsal: Rehearsal
    from_start: bool
    answered: list[tuple[str, Meaning]] = field(default_factory=list)
    taken: list[tuple[str, Meaning]] = field(default_factory=list)


def find_step(name: str, steps: Iterable[str], here: str = "") -> str:
    """The one step that is called so, or whose name in the whole program ends so.

    Of several that of the same part is meant, where one stands in one.

    Args:
        name: the name, or its end.
        steps: the steps, by their names in the whole program.
        here: the step at which one stands.

    Raises:
        StepError: there is none, or more than one.
    """
    known = list(steps)
    if name in known:
        return name
    beside = f"{here.rpartition('/')[0]}/{name}"
    if beside in known:
        return beside
    ending = [step for step in known if step.endswith(f"/{name}")]
    if len(ending) == 1:
        return ending[0]
    if ending:
        raise StepError(f"{quoted(name)} is the name of several steps: {', '.join(ending)}")
    ends = {step.rpartition("/")[2] for step in known}
    raise StepError(f"no step is called {quoted(name)}; {nearest(name, {*known, *ends})}")


def jump(rehearsal: Rehearsal, step: str) -> Jump | None:
    """Come to a step; the job that was given stays as it is.

    Args:
        rehearsal: the job as it stands.
        step: the step, by its name in the whole program.

    Returns:
        How it was reached; None where what the rig shows leads nowhere near it.
    """
    on = Jump(follow(rehearsal.bench, rehearsal.log).rehearsal, from_start=False)
    if _plays_to(on, step):
        return on
    anew = Jump(Rehearsal(rehearsal.bench), from_start=True)
    return anew if _stands_at(anew.rehearsal, step) or _plays_to(anew, step) else None


def _stands_at(rehearsal: Rehearsal, step: str) -> bool:
    return rehearsal.listen is not None and rehearsal.listen.step == step


def _plays_to(way: Jump, step: str) -> bool:
    """Answer as the rig shows until the step is begun; whether it was."""
    begun: set[str] = set()

    def watch(exchange: Exchange) -> None:
        begun.update(effect.step for effect in exchange.effects if isinstance(effect, Begun))

    rehearsal = way.rehearsal
    rehearsal.watch = watch
    for _ in range(MOST_REPLIES):
        if rehearsal.listen is None or rehearsal.technician.holds > MOST_HOLDS:
            return False
        at = rehearsal.listen
        answer = rehearsal.answer()
        if not at.aside and at.read_back is None:
            way.answered.append((at.step, answer.meaning))
            if not answer.seen:
                way.taken.append((at.step, answer.meaning))
        if step in begun:
            return True
    return False
