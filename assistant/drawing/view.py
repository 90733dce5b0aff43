"""What is shown of a program: its main file with the calls closed, one part, or all of it."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping

from assistant.drawing.boxes import box_of
from assistant.drawing.chart import Arc, Box, Chart, Form, Group, Item
from assistant.procedure.fields import nearest
from assistant.procedure.model import RETURN_WITH, Call, Repeat, Step
from assistant.procedure.program import Node, Program

__all__ = ["NoSuchPart", "main_file", "one_part", "part_file", "whole"]


class NoSuchPart(LookupError):  # noqa: N818 - it says what happened, in the users' words
    """A program calls no part of that name; its text names the nearest."""


def main_file(program: Program) -> Chart:
    """The steps of the main file; a call is one box, with the outcomes of its part."""
    return _of_procedure(program, "calls closed", lambda _call: False)


def whole(program: Program) -> Chart:
    """Every step of the joined program, each call a group."""
    return _of_procedure(program, "every part opened", lambda _call: True)


def one_part(program: Program, name: str) -> Chart:
    """The steps of one part, at the first place where it is called, calls inside it closed.

    Args:
        program: the joined program.
        name: of the part as the files call it (``set-rotor``), or of a step that calls one, in
            the whole program (``open-end/set``).

    Raises:
        NoSuchPart: nothing of the program is called so.
    """
    calls = [node for node in program.nodes.values() if node.part is not None]
    found = [call for call in calls if name in (call.name, _part_name(call))]
    if not found:
        known = dict.fromkeys((*map(_part_name, calls), *(call.name for call in calls)))
        if not known:
            raise NoSuchPart("this procedure calls no part: leave --part out")
        raise NoSuchPart(f"no part is called '{name}'; {nearest(name, tuple(known))}")
    view = _View(program, f"{found[0].name}/", lambda _call: False)
    places = ", ".join(f"{view.numbers[node.name]} {node.name}" for node in found)
    return _of_part(view, found[0], f"called at {places}")


def part_file(program: Program) -> Chart:
    """The steps of a part as its own file has them, counted from the first.

    Args:
        program: one that does nothing but call the part, first of all, as it is made to check it.
    """
    call = program.nodes[program.start]
    view = _View(program, f"{call.name}/", lambda _call: False, first=0)
    return _of_part(view, call, "as its file has it")


def _of_part(view: _View, call: Node, what: str) -> Chart:
    part = call.part
    assert part is not None, "only a call has a part"
    arcs = tuple(view.arcs())
    # Each way out is a box, in the order in which the part states them.
    out = {arc.target for arc in arcs}
    ends = [_return(outcome) for outcome in (part.returns or ("next",))]
    return Chart(
        part.title,
        f"part {part.name}, revision {part.revision}, {what}",
        (*view.items(view.prefix), *(end for end in ends if end.key in out)),
        arcs,
    )


def _of_procedure(program: Program, what: str, is_open: Callable[[Node], bool]) -> Chart:
    head = program.procedure
    view = _View(program, "", is_open)
    subtitle = f"procedure {head.name}, revision {head.revision}, {what}"
    return Chart(head.title, subtitle, tuple(view.items("")), tuple(view.arcs()))


def _part_name(node: Node) -> str:
    return node.step.action.part if isinstance(node.step.action, Call) else ""


def _return(outcome: str) -> Box:
    key = _return_key(outcome)
    return Box(key, None, key, Form.RETURN, "way out of the part")


def _return_key(outcome: str) -> str:
    return "return" if outcome == "next" else f"{RETURN_WITH}{outcome}"


class _View:
    """The steps under a prefix, with some of the calls among them opened."""

    def __init__(
        self, program: Program, prefix: str, is_open: Callable[[Node], bool], first: int = 1
    ) -> None:
        self.numbers = {name: number for number, name in enumerate(program.nodes, first)}
        self.prefix = prefix
        self._nodes = program.nodes
        self._is_open = is_open
        self._by_prefix: dict[str, list[Node]] = {}
        for node in program.nodes.values():
            self._by_prefix.setdefault(node.scope.prefix, []).append(node)

    def items(self, prefix: str) -> Iterator[Item]:
        """Boxes and groups in the order of speech."""
        for node in self._by_prefix[prefix]:
            box = box_of(node, self.numbers[node.name])
            if node.part is not None and self._is_open(node):
                yield Group(box, node.part.title, tuple(self.items(f"{node.name}/")))
            else:
                yield box

    def arcs(self) -> Iterator[Arc]:
        """Every way from a step that is shown."""
        return self._arcs_under(self.prefix)

    def _arcs_under(self, prefix: str) -> Iterator[Arc]:
        for node in self._by_prefix[prefix]:
            opened = node.part is not None and self._is_open(node)
            for outcome, target in self._ways(node, opened).items():
                yield Arc(node.name, outcome, self._shown(node, outcome, target))
            if opened:
                yield from self._arcs_under(f"{node.name}/")

    def _ways(self, node: Node, opened: bool) -> Mapping[str, str]:
        return node.after if node.part is not None and not opened else node.targets

    def _shown(self, node: Node, outcome: str, target: str) -> str:
        """The box of a target; outside of what is shown, the way out that leads there."""
        if target.startswith(self.prefix):
            return target
        while node.scope.prefix != self.prefix:
            outcome = _returned(node.step, outcome)
            node = self._nodes[node.scope.prefix.removesuffix("/")]
        return _return_key(_returned(node.step, outcome))


def _returned(step: Step, outcome: str) -> str:
    """The outcome of the part with which a step leaves it."""
    match step.action:
        case Repeat(target=again, otherwise=otherwise):
            written = again.name if outcome == "again" else otherwise.name
        case _:
            written = step.go[outcome].name if outcome in step.go else "next"
    return written.removeprefix(RETURN_WITH) if written.startswith(RETURN_WITH) else "next"
