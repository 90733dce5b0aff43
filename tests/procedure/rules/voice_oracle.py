"""What a technician does who goes by the voice alone, held against what the steps mark as done.

Values are filled in as some valve could have them, and the sentences heard as they are then spoken:
the rules know of no values and this knows of no references. That what is said is what is done, in
that direction and on that rotor, is common practice, no source.
"""

from __future__ import annotations

import itertools
import re
from collections.abc import Iterator
from dataclasses import dataclass

from assistant.procedure.model import Act, Ask, Hold, Reference
from assistant.procedure.program import Node, Program

__all__ = ["contradicted", "misnamed", "misspoken"]

OTHER = {"open": "closed", "closed": "open"} | {
    "clockwise": "counterclockwise",
    "counterclockwise": "clockwise",
}
HEARD = re.compile(
    r"toward (open|closed)|to the (open|closed) (?:stop|end)|run it (open|closed)"
    r"|\b((?:counter)?clockwise)",
    re.IGNORECASE,
)
ON = re.compile(r"crank (?:slowly )?on", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class Valve:
    """A valve and a moment, as far as directions go.

    Args:
        stop: the end from which the turns of a rotor are counted.
        travel: toward which end the rotor is set.
        turn: how its shaft is to be turned.
        seen: how it was seen to turn.
    """

    stop: str
    travel: str
    turn: str
    seen: str

    def way(self, told: Reference) -> str | None:
        """The direction that a name stands for; None where it is none."""
        ways = {
            **{"opening": "open", "closing": "closed", "to-stop": self.stop},
            **{"away": OTHER[self.stop], "travel": self.travel, "turn": self.turn},
            **{"back": OTHER[self.turn], "seen": self.seen},
        }
        return ways.get(told.path[-1])

    def heard(self, node: Node) -> str:
        """What is spoken at a step; a count by its name."""
        if node.step.say is None:
            return ""
        return "".join(
            piece if isinstance(piece, str) else self._spoken(piece)
            for piece in node.step.say.pieces
        )

    def _spoken(self, told: Reference) -> str:
        if told.path[-1] == "stop":
            return f"{self.stop} stop"
        way = self.way(told)
        if way is None:
            return f"<{told}>"
        return f"toward {way}" if way in ("open", "closed") else way


ENDS, ROTATIONS = ("open", "closed"), ("clockwise", "counterclockwise")
VALVES = [Valve(*ways) for ways in itertools.product(ENDS, ENDS, ROTATIONS, ROTATIONS)]


@dataclass(frozen=True, slots=True)
class Moment:
    """What a technician has in mind.

    Args:
        cranked: which way the valve was moved last; empty where nobody told.
        begun: which ways were told at a mark since which nothing was asked or done.
        marked: whether there was one.
    """

    cranked: str = ""
    begun: frozenset[str] = frozenset()
    marked: bool = False


def misspoken(program: Program) -> bool:
    """Whether somewhere, at some valve, something else is said than is marked as done."""
    return any(_goes_wrong(program, valve) for valve in VALVES)


def _goes_wrong(program: Program, valve: Valve) -> bool:
    stack = [(program.start, Moment())]
    seen = set(stack)
    while stack:
        name, moment = stack.pop()
        node = program.nodes[name]
        if any(_is_wrong(node, act, moment, valve) for act in node.step.acts):
            return True
        after = _after(node, moment, valve)
        for target in node.targets.values():
            if (target, after) not in seen:
                seen.add((target, after))
                stack.append((target, after))
    return False


def _is_wrong(node: Node, act: Act, moment: Moment, valve: Valve) -> bool:
    told = dict(act.arguments)
    text = valve.heard(node)
    if "turns" in told and f"<{told['turns']}>" not in text:
        return True
    way = _way(act, valve)
    if way is None:
        return False
    heard = _ways(text)
    if act.kind.value == "turn-shaft":
        return heard != {way} or (moment.marked and moment.begun != {way})
    if act.kind.value == "stroke":
        return heard | moment.begun != {way}
    goes_on = not heard and ON.search(text) is not None and moment.cranked == way
    return bool(moment.begun - {way}) or not (heard == {way} or goes_on)


def _after(node: Node, moment: Moment, valve: Valve) -> Moment:
    acts = node.step.acts
    cranked = moment.cranked
    for act in acts:
        if act.kind.value == "crank-to-middle":
            cranked = ""
        elif act.kind.value != "turn-shaft":
            cranked = _way(act, valve) or cranked
    if acts or isinstance(node.step.action, Hold):
        return Moment(cranked)
    if isinstance(node.step.action, Ask):
        is_mark = node.step.action.kind.value == "mark"
        return Moment(cranked, _ways(valve.heard(node)) if is_mark else frozenset(), is_mark)
    return moment


def _way(act: Act, valve: Valve) -> str | None:
    return next((valve.way(one) for key, one in act.arguments if key in ("way", "toward")), None)


def _ways(text: str) -> frozenset[str]:
    return frozenset(_each(text))


def _each(text: str) -> Iterator[str]:
    for found in HEARD.finditer(text):
        yield next(filter(None, found.groups())).lower()


# Which rotor

NAME = re.compile(r"\b(open|closed|third|fourth) (?:shaft|rotor)\b", re.IGNORECASE)
CONTACTS = re.compile(r"<of (\w+)>")
ALL = "all"

Begun = frozenset[str] | None
"""The rotors that were named at a mark since which nothing was asked or done; None without one."""


def misnamed(program: Program) -> bool:
    """Whether somewhere another rotor is turned, watched or read than the voice says, or none."""
    stack: list[tuple[str, Begun]] = [(program.start, None)]
    seen = set(stack)
    while stack:
        name, begun = stack.pop()
        node = program.nodes[name]
        if _turns_unnamed(node, begun) or _asks_unnamed(node):
            return True
        begun = _named_after(node, begun)
        for target in node.targets.values():
            if (target, begun) not in seen:
                seen.add((target, begun))
                stack.append((target, begun))
    return False


def _turns_unnamed(node: Node, begun: Begun) -> bool:
    turned = _turned(node)
    return bool(turned) and (
        _named(node) != _meant(node) | turned or (begun is not None and begun != turned)
    )


def _asks_unnamed(node: Node) -> bool:
    action = node.step.action
    if not (isinstance(action, Ask) and isinstance(action.of, Reference)):
        return False
    if action.kind.value == "contacts" and action.of.path[0] == "unit":
        return not set(CONTACTS.findall(_spoken(node))) <= {ALL}
    return bool(_meant(node)) and not _meant(node) <= _named(node) <= _meant(node) | _turned(node)


def _meant(node: Node) -> frozenset[str]:
    """The rotor that a question is about."""
    match node.step.action:
        case Ask(of=Reference() as of) if of.path[0] != "unit":
            return frozenset({_of(node, of)})
    return frozenset()


def _turned(node: Node) -> frozenset[str]:
    turned = (act for act in node.step.acts if act.kind.value == "turn-shaft")
    return frozenset(_of(node, dict(act.arguments)["rotor"]) for act in turned)


def _named_after(node: Node, begun: Begun) -> Begun:
    if node.step.acts or isinstance(node.step.action, Ask | Hold):
        is_mark = isinstance(node.step.action, Ask) and node.step.action.kind.value == "mark"
        return _named(node) if is_mark and not node.step.acts else None
    return begun


def _named(node: Node) -> frozenset[str]:
    """The rotors of which a listener hears."""
    text = _spoken(node)
    return frozenset(name.lower() for name in (*NAME.findall(text), *CONTACTS.findall(text)))


def _spoken(node: Node) -> str:
    """What is spoken at a step, each rotor by its name, and contacts by that of their rotor."""
    if node.step.say is None:
        return ""
    return "".join(
        piece if isinstance(piece, str) else _as_heard(node, piece)
        for piece in node.step.say.pieces
    )


def _as_heard(node: Node, told: Reference) -> str:
    match told.path:
        case ("unit", "contacts"):
            return f"<of {ALL}>"
        case (_, "contacts"):
            return f"<of {_of(node, told)}>"
        case (_, "name"):
            return _of(node, told)
    return f"<{told}>"


def _of(node: Node, told: Reference) -> str:
    return node.scope.rotors.get(told.path[0], told.path[0])


# Which deed, and which state

HEARD_DEEDS = {
    "on": r"switch (?:it|them|\w+ suppl(?:y|ies)) on|energise the|take your locks",
    "off": r"switch (?:it|them|\w+ suppl(?:y|ies)) off",
    "locked": r"lock (?:it|them) off|put your locks",
    "in": r"to engage|fully out|quarter turn back",
    "out": r"to disengage|press (?:it|the \w+ rod)",
    "by hand": r"by hand|crank(?!ed)",
    "by motor": r"\bjog\b",
}
"""What a listener takes to be asked for."""
CANNOT_BE = {
    "energise": {"off", "locked"},
    "restore-supplies": {"locked"},
    "lock-off": {"on"},
    "engage": {"out"},
    "disengage": {"in"},
    "turn-shaft": {"by hand"},
    "jog": {"by hand"},
    "stroke": {"by hand"},
    "crank": {"by motor"},
    "crank-to-stop": {"by motor"},
    "crank-slowly": {"by motor"},
    "crank-to-middle": {"by motor"},
    "unseat": {"by motor"},
}
"""For each deed, what nobody does who does it."""
BAD_NEWS = {
    "isolated": r"is (?:it|the valve) live",
    "rods-engaged": r"\b(?:one|a shaft) (?:turns?|is free)|is (?:one|a shaft) free|does one turn",
    "people-clear": r"is anybody (?:at|near|in)",
    "permitted": r"forbidden|no permission",
    "rotation-right": r"wrong way",
}
"""For each fact, what a question asks whose yes means that it is not so."""
TOLD_ANSWER = re.compile(r"if ([^,;.]+), say ([^,;.]+)")


def contradicted(program: Program) -> bool:
    """Whether somewhere a listener does, or says, the contrary of what a step counts on."""
    return any(_does_otherwise(node) or _says_otherwise(node, program) for node in _all(program))


def _all(program: Program) -> list[Node]:
    return [node for node in program.nodes.values() if node.step.say is not None]


def _does_otherwise(node: Node) -> bool:
    told = " ".join(_sentences(node, "."))
    heard = {deed for deed, words in HEARD_DEEDS.items() if re.search(words, told)}
    return any(CANNOT_BE.get(act.kind.value, set()) & heard for act in node.step.acts)


def _says_otherwise(node: Node, program: Program) -> bool:
    kind = node.step.action.kind.value if isinstance(node.step.action, Ask) else ""
    asked = " ".join(_sentences(node, "?") or _sentences(node, "."))
    for outcome, fact in _counted_on(node, program):
        for state, answer in TOLD_ANSWER.findall(_spoken(node).lower()):
            if answer == outcome and re.search(BAD_NEWS[fact], state):
                return True
        claims = kind != "choice" and outcome not in ("no", "not-agreed")
        if claims and re.search(BAD_NEWS[fact], asked):
            return True
    return False


def _counted_on(node: Node, program: Program) -> Iterator[tuple[str, str]]:
    """What the outcomes of a step prove, or somebody beside confirms after them."""
    for outcome, facts in node.step.proves.items():
        yield from ((outcome, fact.value) for fact in facts)
    if node.step.proves or not isinstance(node.step.action, Ask):
        return
    for outcome, target in node.targets.items():
        there = program.nodes[target].step
        if isinstance(there.action, Ask) and there.action.kind.value == "agreement":
            yield from ((outcome, fact.value) for facts in there.proves.values() for fact in facts)


def _sentences(node: Node, end: str) -> list[str]:
    """The sentences that end so, as they are heard."""
    pieces = re.findall(r"[^.?!]+[.?!]", _spoken(node).lower())
    return [piece for piece in pieces if piece.endswith(end)]
