"""Join a procedure and the parts that it calls into one graph.

Each call gets its own copy of the part's steps, named after the call (``open-end/read``). A part
goes back to the step after its call when it falls off its end or goes to ``return``.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from types import MappingProxyType

from assistant.procedure.fields import nearest, quoted
from assistant.procedure.model import (
    RETURN_WITH,
    Call,
    End,
    Procedure,
    Reference,
    Repeat,
    Step,
    Target,
)
from assistant.procedure.outcomes import outcomes_of
from assistant.procedure.problems import MOST_PROBLEMS, NO_FILE, FileRefused, Place, Problem
from assistant.procedure.program import Node, Pass, Program, Scope
from assistant.procedure.steps import WAYS_ON
from assistant.procedure.uses import assigned_by
from assistant.procedure.values import Kind
from assistant.trade.sheet import ROTOR_NAMES

__all__ = ["Parts", "join"]

LARGEST_PROGRAM = 2000
"""Steps; a larger one is a mistake in the calls, and would not be followed by anybody."""

DEEPEST_CALLS = 20

After = Mapping[str, str]
"""For each outcome of a call the node that follows."""

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
    start = joiner.expand(procedure, Scope("", MappingProxyType({})), {}, (file,))
    if joiner.problems:
        raise FileRefused(joiner.problems)
    return Program(procedure, MappingProxyType(joiner.nodes), start)


@dataclass(slots=True)
class _Joiner:
    parts: Parts
    nodes: dict[str, Node] = field(default_factory=dict)
    passes: dict[str, tuple[Pass, ...]] = field(default_factory=dict)
    problems: list[Problem] = field(default_factory=list)

    def expand(
        self, procedure: Procedure, scope: Scope, after: After, callers: tuple[str, ...]
    ) -> str:
        """Add the nodes of a file; answer the name of its first.

        Args:
            procedure: the file.
            scope: of this call.
            after: for each outcome of the call the node after it; none for the main file.
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
            entry = self._enter(spot, step.action, name, targets)
            # The node has its place before those of the part: that is the order of speech.
            self.nodes[name] = Node(
                name,
                step,
                spot.scope,
                MappingProxyType({} if entry is None else {"next": entry}),
                self.passes.get(name, ()),
                part=self._part(spot, step.action),
                after=MappingProxyType(targets),
            )

    def _targets(self, spot: _Spot, step: Step) -> Iterator[tuple[str, str]]:
        for outcome, target in self._wanted(spot, step):
            try:
                yield outcome, spot.resolve(target)
            except LookupError as error:
                self._problem(target.place, f"step '{step.name}' {error}", "target")

    def _part(self, spot: _Spot, call: Call) -> Procedure | None:
        return self.parts.get((spot.procedure.place.file, call.part))

    def _wanted(self, spot: _Spot, step: Step) -> Iterator[tuple[str, Target]]:
        """Where the step says to go after each of its outcomes."""
        if isinstance(step.action, Repeat):
            yield from (("again", step.action.target), ("otherwise", step.action.otherwise))
            return
        outcomes = outcomes_of(step)
        if isinstance(step.action, Call) and (part := self._part(spot, step.action)):
            outcomes = part.returns or outcomes
        self._refuse_unknown(step, outcomes)
        self._refuse_unproved(step, outcomes)
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

    def _refuse_unproved(self, step: Step, outcomes: tuple[str, ...]) -> None:
        for outcome in step.proves:
            if outcome not in outcomes:
                hint = nearest(outcome, outcomes)
                message = f"'proves': step '{step.name}' has no outcome {quoted(outcome)}; {hint}"
                self._problem(step.place, message, "go")

    def _enter(self, spot: _Spot, call: Call, name: str, after: After) -> str | None:
        """Add the nodes of a called part; answer the name of its first."""
        part = self._part(spot, call)
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
        if not self._given(call, part) or not after:
            return None
        self._check_rotors(spot.scope, call, part)
        scope = Scope(
            prefix=f"{name}/",
            rotors=MappingProxyType(dict(_rotors(spot.scope, call, part))),
            passed=MappingProxyType(dict(self._passed(spot.scope, call, part))),
        )
        self.passes[name] = tuple(_passes(call, part))
        return self.expand(part, scope, after, (*spot.callers, file))

    def _given(self, call: Call, part: Procedure) -> bool:
        given = {name: value.place for name, value in call.arguments}
        missing = [name for name in part.inputs if name not in given]
        unknown = [name for name in given if name not in part.inputs]
        if unknown and not part.inputs:
            message = f"the part '{call.part}' takes nothing: remove 'with:'"
            self._problem(call.place, message, "part")
            return False
        for name in unknown:
            # What it is meant for is still missing, so that is not told once more.
            hint = nearest(name, missing or part.inputs)
            message = f"the part '{call.part}' has no input {quoted(name)}; {hint}"
            self._problem(given[name], message, "part")
        if missing and not unknown:
            message = f"the part '{call.part}' must be given 'with:' {', '.join(missing)}"
            self._problem(call.place, message, "part")
        return not (missing or unknown)

    def _check_rotors(self, scope: Scope, call: Call, part: Procedure) -> None:
        """Tell of rotors that no unit can have; what this unit has is asked with its sheet."""
        if call.place.file == NO_FILE:
            return  # the caller of a part that is checked alone calls rotors as the part does
        known = {*ROTOR_NAMES, *scope.rotors}
        for name, value in call.arguments:
            if part.inputs[name] is Kind.ROTOR and str(value) not in known:
                message = f"no rotor is called {quoted(str(value))}; {nearest(str(value), known)}"
                self._problem(value.place, message, "name")

    def _passed(self, scope: Scope, call: Call, part: Procedure) -> Iterator[tuple[str, str]]:
        """The names of the values that are passed, whether a step gave them or a part did."""
        names = {name for node in self.nodes.values() for name, _ in assigned_by(node)}
        for passed in _passes(call, part):
            whole, fields = scope.resolve(passed.reference.path, names)
            if fields:
                message = f"'{passed.reference}' is no name that a step before this one gives"
                self._problem(passed.reference.place, message, "part")
            yield _input_of(call, passed.reference), whole

    def _problem(self, place: Place, message: str, rule: str) -> None:
        self.problems.append(Problem(place, message, rule))


def _rotors(scope: Scope, call: Call, part: Procedure) -> Iterator[tuple[str, str]]:
    for name, value in call.arguments:
        if part.inputs[name] is Kind.ROTOR:
            yield name, scope.rotor(str(value))


def _passes(call: Call, part: Procedure) -> Iterator[Pass]:
    for name, value in call.arguments:
        if part.inputs[name] is not Kind.ROTOR:
            yield Pass(value, part.inputs[name])


def _input_of(call: Call, reference: Reference) -> str:
    return next(name for name, value in call.arguments if value is reference)


@dataclass(frozen=True, slots=True)
class _Spot:
    """A step's position while its file is being expanded."""

    procedure: Procedure
    index: int
    scope: Scope
    after: After
    callers: tuple[str, ...]

    def resolve(self, target: Target) -> str:
        """The node that a target means; LookupError, in the writer's words, where there is none."""
        if target.name == "return" or target.name.startswith(RETURN_WITH):
            return self._return(target)
        if target.name == "next":
            following = self.index + 1
            if following == len(self.procedure.steps):
                return self._return(target)
            return self.scope.absolute(self.procedure.steps[following].name)
        names = [step.name for step in self.procedure.steps]
        if target.name not in names:
            raise LookupError(f"goes to '{target.name}'; {nearest(target.name, names)}")
        return self.scope.absolute(target.name)

    def _return(self, target: Target) -> str:
        if not self.procedure.is_part:
            raise LookupError(self._no_caller(target))
        outcome = "next" if target.name in WAYS_ON else target.name.removeprefix(RETURN_WITH)
        returns = self.procedure.returns or ("next",)
        if outcome not in returns:
            ways = [way if way == "next" else f"{RETURN_WITH}{way}" for way in returns]
            raise LookupError(f"returns with no outcome of the part; {nearest(outcome, ways)}")
        # A way that the calling step does not name is a problem of that step, told there.
        return self.after.get(outcome, "")

    def _no_caller(self, target: Target) -> str:
        """Why a step of a procedure can go to nobody that called it, and where it can go."""
        ends = [step.name for step in self.procedure.steps if isinstance(step.action, End)]
        if target.name == "next":
            remedy = "let it 'go:' to '{}'" if ends else "finish with a step that says 'end: job'"
            return f"goes on past the end: {remedy.format(*ends[:1])}"
        end = f"'{ends[0]}', which ends the job" if ends else "one that says 'end: job'"
        return f"goes to '{target.name}', and only a part returns: go to a step, as to {end}"
