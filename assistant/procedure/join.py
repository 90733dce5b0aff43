"""Join a procedure and the parts that it calls into one graph.

Each call gets its own copy of the part's steps, named after the call (``open-end/read``). A part
goes back to the step after its call when it falls off its end or goes to ``return``.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from types import MappingProxyType

from assistant.procedure.fields import nearest, quoted
from assistant.procedure.model import Call, End, Procedure, Repeat, Step, Target
from assistant.procedure.outcomes import outcomes_of
from assistant.procedure.problems import MOST_PROBLEMS, FileRefused, Place, Problem
from assistant.procedure.program import Node, Program, Scope

__all__ = ["Parts", "join"]

LARGEST_PROGRAM = 2000
"""Steps; a larger one is a mistake in the calls, and would not be followed by anybody."""

DEEPEST_CALLS = 20

Parts = Mapping[tuple[str, str], Procedure]
"""Parts, by the file that names them and the name that it gives them."""


def join(procedure: Procedure, parts: Parts) -> Program:
    """Join a procedure with its parts.

    Args:
        procedure: the main file.
        parts: every part that it or another part names.

    Raises:
        FileRefused: for targets, parts or arguments that do not exist, and for parts that call
            themselves.
    """
    joiner = _Joiner(parts)
    file = procedure.place.file
    start = joiner.expand(procedure, Scope("", MappingProxyType({})), None, (file,))
    if joiner.problems:
        raise FileRefused(joiner.problems)
    return Program(procedure, MappingProxyType(joiner.nodes), start)


@dataclass(slots=True)
class _Joiner:
    parts: Parts
    nodes: dict[str, Node] = field(default_factory=dict)
    problems: list[Problem] = field(default_factory=list)

    def expand(
        self, procedure: Procedure, scope: Scope, after: str | None, callers: tuple[str, ...]
    ) -> str:
        """Add the nodes of a file; answer the name of its first.

        Args:
            procedure: the file.
            scope: of this call.
            after: the node after the call; None for the main file.
            callers: the files from the main file down to this one.
        """
        for index, step in enumerate(procedure.steps):
            if len(self.problems) >= MOST_PROBLEMS:
                break
            if len(self.nodes) >= LARGEST_PROGRAM:
                self._problem(
                    step.place, f"over {LARGEST_PROGRAM} steps in all: call fewer parts", "size"
                )
                break
            self._add(_Spot(procedure, index, scope, after, callers), step)
        return scope.absolute(procedure.steps[0].name)

    def _add(self, spot: _Spot, step: Step) -> None:
        name = spot.scope.absolute(step.name)
        targets = dict(self._targets(spot, step))
        if isinstance(step.action, End) and spot.procedure.is_part:
            self._problem(step.place, "a part cannot end the job: go to 'return'", "part-end")
        self.nodes[name] = Node(name, step, spot.scope, MappingProxyType(targets))
        if isinstance(step.action, Call):
            entry = self._enter(spot, step.action, name, targets.get("next"))
            targets = {} if entry is None else {"next": entry}
            # The node has its place before those of the part: that is the order of speech.
            self.nodes[name] = Node(name, step, spot.scope, MappingProxyType(targets))

    def _targets(self, spot: _Spot, step: Step) -> Iterator[tuple[str, str]]:
        for outcome, target in self._wanted(step):
            try:
                yield outcome, spot.resolve(target)
            except LookupError as error:
                self._problem(target.place, f"step '{step.name}' {error}", "target")

    def _wanted(self, step: Step) -> Iterator[tuple[str, Target]]:
        """Where the step says to go after each of its outcomes."""
        if isinstance(step.action, Repeat):
            yield from (("again", step.action.target), ("otherwise", step.action.otherwise))
            return
        outcomes = outcomes_of(step)
        self._refuse_unknown(step, outcomes)
        for outcome in outcomes:
            if outcome in step.go:
                yield outcome, step.go[outcome]
            elif outcome == "next":
                yield outcome, Target("next", step.place)
            else:
                message = f"step '{step.name}' must say where to 'go:' after '{outcome}'"
                self._problem(step.place, message, "go")

    def _refuse_unknown(self, step: Step, outcomes: tuple[str, ...]) -> None:
        for outcome, target in step.go.items():
            if outcome not in outcomes:
                hint = nearest(outcome, outcomes)
                message = f"step '{step.name}' has no outcome {quoted(outcome)}; {hint}"
                self._problem(target.place, message, "go")

    def _enter(self, spot: _Spot, call: Call, name: str, after: str | None) -> str | None:
        """Add the nodes of a called part; answer the name of its first."""
        part = self.parts.get((spot.procedure.place.file, call.part))
        if part is None:
            hint = nearest(call.part, spot.procedure.parts)
            self._problem(call.place, f"no part is called '{call.part}'; {hint}", "part")
            return None
        file = part.place.file
        if file in spot.callers:
            message = f"the part '{call.part}' calls itself: use 'repeat:'"
            self._problem(call.place, message, "part")
            return None
        if len(spot.callers) > DEEPEST_CALLS:
            message = f"parts call parts more than {DEEPEST_CALLS} deep: call them from one file"
            self._problem(call.place, message, "part")
            return None
        rotors = self._arguments(spot, call, part)
        if rotors is None or after is None:
            return None
        scope = Scope(f"{name}/", MappingProxyType(rotors))
        return self.expand(part, scope, after, (*spot.callers, file))

    def _arguments(self, spot: _Spot, call: Call, part: Procedure) -> dict[str, str] | None:
        given = {name for name, _, _ in call.arguments}
        if given != set(part.inputs):
            remedy = "takes nothing: remove 'with:'"
            if part.inputs:
                remedy = f"must be given 'with:' {', '.join(part.inputs)}"
            self._problem(call.place, f"the part '{call.part}' {remedy}", "part")
            return None
        return {name: spot.scope.rotors.get(value, value) for name, value, _ in call.arguments}

    def _problem(self, place: Place, message: str, rule: str) -> None:
        self.problems.append(Problem(place, message, rule))


@dataclass(frozen=True, slots=True)
class _Spot:
    """A step's position while its file is being expanded."""

    procedure: Procedure
    index: int
    scope: Scope
    after: str | None
    callers: tuple[str, ...]

    def resolve(self, target: Target) -> str:
        """The node that a target means; LookupError, in the writer's words, where there is none."""
        if target.name == "return":
            return self._return()
        if target.name == "next":
            following = self.index + 1
            if following == len(self.procedure.steps):
                return self._return()
            return self.scope.absolute(self.procedure.steps[following].name)
        names = [step.name for step in self.procedure.steps]
        if target.name not in names:
            raise LookupError(f"goes to '{target.name}'; {nearest(target.name, names)}")
        return self.scope.absolute(target.name)

    def _return(self) -> str:
        if self.after is None:
            raise LookupError("goes on past the end: finish with a step that says 'end: job'")
        return self.after
