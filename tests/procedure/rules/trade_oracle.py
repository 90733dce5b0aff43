"""What would happen at the valve, by the facts of the trade alone.

It plays a joined program as a technician who answers anything that can be answered, and tells each
harm that can come of it. It shares no code and no table with the rules or with the session: what
each act needs is written here once more, from the trade. So where it and the rules agree, two
independent readings of the trade agree.

`harms` looks at everything that can be, depth first; `harms_on_a_walk` goes one way by chance. As
the rules do, they take every answer at every question to be possible.
"""

from __future__ import annotations

import random
import re
from collections import Counter
from collections.abc import Callable, Container, Hashable, Iterable, Iterator
from dataclasses import dataclass, replace
from functools import partial
from itertools import chain
from typing import Generic, TypeVar

from assistant.procedure.model import Ask, Branch, Compute, End, Hold, Reference, Repeat, Template
from assistant.procedure.program import Node, Program

__all__ = [
    "harms",
    "harms_on_a_walk",
    "of_another_unit",
    "without_end",
    "without_limit",
    "without_value",
]

State = TypeVar("State", bound=Hashable)

# Hands are in the housing or at the handwheel: isolated, locked and proved dead before.
# Source: 29 CFR 1910.147(d)(3) to (6).
BY_HAND = frozenset(
    {"crank-to-stop", "crank", "crank-slowly", "crank-to-middle", "unseat", "disengage"}
    | {"turn-shaft", "engage", "try-shafts"}
)
# The valve moves through its gears: every rod in, and the shafts tried since. "From every path on
# which the rod goes out, the rod goes in and the shafts are tried before any cranking, energising,
# or end" (common practice).
DRIVES = frozenset(
    {"crank-to-stop", "crank", "crank-slowly", "crank-to-middle", "unseat", "energise", "stroke"}
)
# The valve stands somewhere else afterwards (common practice).
MOVES = frozenset({"crank-to-stop", "crank", "crank-slowly", "unseat", "stroke"})
# Never above 200 turns a minute (common practice), in any of the ways in which it can be said.
LIMIT = re.compile(
    r"\b(never|not|at most)\b[^.]* (two hundred|200) ((turns|revolutions) a minute|rpm)"
)
# Which answer means what (common practice): any other leaves the thing in doubt.
MEANING = {
    "isolated": {"yes", "agreed", "dead", "locked-off"},
    "rods-engaged": {"locked", "yes", "agreed"},
    "people-clear": {"yes", "agreed", "clear"},
    "permitted": {"yes", "agreed"},
    "rotation-right": {"open", "yes", "agreed"},
}
# What has to be tried for anybody to tell: the shafts after every engagement, and a short jog
# before the first stroke (common practice).
TRIED_BY = {"rods-engaged": "try-shafts", "rotation-right": "jog"}
# No direction from readings that contradict each other, no trip where none was found, and no speed
# or time where a moment is not known (common practice).
NOTHING_COMPUTED = {"contradiction", "none", "unknown"}


@dataclass(frozen=True, slots=True)
class Valve:
    """How a valve stands, as far as somebody who follows the procedure can vouch for it.

    Args:
        rod: unknown, out, back (turned back, and not tried), or locked (tried).
        energy: unknown, dead (proved), live, or off (switched off, and not proved dead).
        middle: whether it was cranked to mid-travel and not moved since.
        clear: whether everybody said to be clear.
        permit: whether there is permission to energise.
        rotation: whether a jog showed the motor to turn the right way since it was energised.
        told: whether the limit of 200 turns a minute was spoken since a shaft was turned.
        unwarned: whether a mark began something right before, and the limit was not spoken by then.
        touched: whether a rod was moved, or a shaft tried, and not felt to be locked since.
    """

    rod: str = "unknown"
    energy: str = "unknown"
    middle: bool = False
    clear: bool = False
    permit: bool = False
    rotation: bool = False
    told: bool = False
    unwarned: bool = False
    touched: bool = False


Harm = tuple[str, str]
"""The rule of the trade that is broken, and the step where."""


@dataclass(frozen=True, slots=True)
class Game(Generic[State]):
    """What is played.

    Args:
        start: how things stand at the beginning.
        harms: what a step does wrong as things stand.
        after: how things stand after a step that was left by an outcome.
    """

    start: State
    harms: Callable[[Node, State], Iterator[str]]
    after: Callable[[Node, str, State], State]


def harms(program: Program) -> frozenset[Harm]:
    """Every harm to the valve, or by a direction, that a procedure can lead to."""
    played = (harm for game in games(program) for harm in _search(program, game))
    return frozenset(chain(played, _meaningless(program)))


def harms_on_a_walk(program: Program, dice: random.Random, most: int = 3000) -> frozenset[Harm]:
    """The harms on one way that a job could take by chance, its repeats counted."""
    plays = list(games(program))
    states = [game.start for game in plays]
    repeated: Counter[str] = Counter()
    found: set[Harm] = set()
    node = program.nodes[program.start]
    for _ in range(most):
        for game, state in zip(plays, states, strict=True):
            found |= {(kind, node.name) for kind in game.harms(node, state)}
        if not node.targets:
            break
        outcome = _by_chance(node, dice, repeated)
        pairs = zip(plays, states, strict=True)
        states = [game.after(node, outcome, state) for game, state in pairs]
        node = program.nodes[node.targets[outcome]]
    return frozenset(found)


def _by_chance(node: Node, dice: random.Random, repeated: Counter[str]) -> str:
    action = node.step.action
    if isinstance(action, Repeat):
        repeated[node.name] += 1
        if repeated[node.name] <= action.at_most:
            return "again"
        del repeated[node.name]
        return "otherwise"
    return dice.choice(sorted(node.targets))


def _search(program: Program, game: Game[Hashable]) -> Iterator[Harm]:
    """Depth first through everything that can be."""
    stack = [(program.start, game.start)]
    seen = set(stack)
    while stack:
        name, state = stack.pop()
        node = program.nodes[name]
        yield from ((kind, name) for kind in game.harms(node, state))
        for outcome, target in node.targets.items():
            there = (target, game.after(node, outcome, state))
            if there not in seen:
                seen.add(there)
                stack.append(there)


def games(program: Program) -> Iterator[Game[Hashable]]:
    """The valve, each direction, time and comparison that is computed, and each rotor."""
    yield Game(Valve(), _harms_at_valve, _valve_after)  # type: ignore[arg-type]
    for name in sorted(_directions(program)):
        yield _game_of(program, name)
    for comparing in _comparings(program):
        yield Game(Read(), comparing.harms, comparing.after)  # type: ignore[arg-type]
    for timing in _timings(program):
        yield Game(Watch(), timing.harms, timing.after)  # type: ignore[arg-type]
    for rotor in sorted(_rotors(program)):
        yield Game(Rotor(), partial(_harms_of_rotor, rotor), partial(_rotor_after, rotor))


# The valve


def _harms_at_valve(node: Node, valve: Valve) -> Iterator[str]:
    if isinstance(node.step.action, End):
        # A job does not end with the supply on, nor with a rod moved and not tried.
        if valve.energy == "live":
            yield "isolated-first"
        if valve.touched:
            yield "rod-in-first"
    for act in node.step.acts:
        yield from _harms_of(act.kind.value, valve, _says_limit(node))
        valve = _act(act.kind.value, _put_right(act.kind.value, valve))


def _harms_of(act: str, valve: Valve, says_limit: bool) -> Iterator[str]:
    if act in BY_HAND and valve.energy != "dead":
        yield "isolated-first"
    if act in DRIVES and valve.rod != "locked":
        yield "rod-in-first"
    if act == "turn-shaft":
        if valve.rod != "out":
            yield "rod-in-first"
        if valve.unwarned or not (valve.told or says_limit):
            yield "speed-limit"
    # Only after: permission, people clear, mid-travel; then a jog; then the stroke (trade, cp).
    if act == "energise" and not (valve.middle and valve.clear and valve.permit):
        yield "gate-first"
    if act == "jog" and not (valve.energy == "live" and valve.middle):
        yield "gate-first"
    if act == "stroke" and not (valve.energy == "live" and valve.rotation):
        yield "gate-first"


def _put_right(act: str, valve: Valve) -> Valve:
    """As though somebody had noticed in time: what one omission leads to is not counted again."""
    if act in BY_HAND:
        valve = replace(valve, energy="dead")
    if act in DRIVES:
        valve = replace(valve, rod="locked", touched=False)
    match act:
        case "energise":
            return replace(valve, middle=True, clear=True, permit=True)
        case "jog":
            return replace(valve, energy="live", middle=True)
        case "stroke":
            return replace(valve, energy="live", rotation=True)
    return valve


def _act(act: str, valve: Valve) -> Valve:
    if act in MOVES:
        valve = replace(valve, middle=False)
    match act:
        case "crank-to-middle":
            return replace(valve, middle=True)
        case "disengage":
            return replace(valve, rod="out", touched=True)
        case "engage":
            return replace(valve, rod="back", touched=True)
        case "try-shafts":
            return replace(valve, rod="out" if valve.rod == "out" else "back", touched=True)
        case "turn-shaft":
            return replace(valve, told=False)
        case "energise":
            return replace(valve, energy="live", rotation=False)
        case "lock-off":
            # What was proved dead stays so when it is locked off once more.
            off = "dead" if valve.energy == "dead" else "off"
            return _stood_down(replace(valve, energy=off))
        case "restore-supplies":
            return replace(valve, energy="live" if valve.energy == "live" else "unknown")
    return valve


def _stood_down(valve: Valve) -> Valve:
    """After the motor part was left: people come near, somebody cranks, phases are swapped."""
    return replace(valve, middle=False, clear=False, permit=False, rotation=False)


def _valve_after(node: Node, outcome: str, valve: Valve) -> Valve:
    acts = [act.kind.value for act in node.step.acts]
    valve = replace(valve, told=valve.told or _says_limit(node))
    for act in acts:
        valve = _act(act, _put_right(act, valve))
    if isinstance(node.step.action, Hold) and valve.energy == "live":
        valve = _stood_down(valve)
    if acts or isinstance(node.step.action, Ask | Hold):
        valve = replace(valve, unwarned=_is_a_mark(node) and not acts and not valve.told)
    asked = {fact.value for facts in node.step.proves.values() for fact in facts}
    told = {fact.value for fact in node.step.proves.get(outcome, ())}
    for fact in sorted(asked):
        valve = _learn(fact, fact in told and _shows(outcome, fact, acts), valve)
    return valve


def _shows(outcome: str, fact: str, acts: Container[str]) -> bool:
    """Whether an answer means that something is so; of what is tried it tells, and of nothing else.

    One question for one thing (common practice).
    """
    tried = {act for act in TRIED_BY.values() if act in acts}
    is_asked = TRIED_BY[fact] in tried if fact in TRIED_BY else not tried
    return is_asked and outcome in MEANING[fact] | {"next"}


def _learn(fact: str, is_so: bool, valve: Valve) -> Valve:
    match fact:
        case "isolated" if is_so:
            return replace(valve, energy="dead")
        case "isolated":
            return replace(valve, energy="live" if valve.energy == "live" else "unknown")
        case "rods-engaged" if valve.rod == "out":
            return valve  # with the rod out a shaft turns: nobody can feel it locked
        case "rods-engaged" if is_so:
            return replace(valve, rod="locked", touched=False)
        case "rods-engaged":
            return replace(valve, rod="back")
        case "people-clear":
            return replace(valve, clear=is_so)
        case "permitted":
            return replace(valve, permit=is_so)
        case "rotation-right":
            return replace(valve, rotation=is_so)
    raise AssertionError(fact)


def _is_a_mark(node: Node) -> bool:
    return isinstance(node.step.action, Ask) and node.step.action.kind.value == "mark"


def _says_limit(node: Node) -> bool:
    return any(LIMIT.search(notice.text.plain.lower()) for notice in node.step.notices)


def _meaningless(program: Program) -> Iterator[Harm]:
    """Answers that are to prove what they do not mean, or what was not tried."""
    for node in program.nodes.values():
        acts = {act.kind.value for act in node.step.acts}
        for outcome, facts in node.step.proves.items():
            if any(not _shows(outcome, fact.value, acts) for fact in facts):
                yield "proof-fits", node.name


# A direction, and what it was computed from


@dataclass(frozen=True, slots=True)
class Course:
    """What there is to be said for a direction.

    Args:
        of: the rotor for which it was computed; empty before.
        unsure: whether one of the answers behind it was not confirmed.
        stale: whether valve or rotor do not stand any more where the contacts were read.
        turned: the ways in which the shaft was turned by it.
        doubtful: of the answers that it is computed from, those that were not confirmed.
        old: of the readings that it is computed from, those of another place of the rotor.
        whose: of the answers that it is computed from, about which rotor each was asked.
    """

    of: str = ""
    unsure: bool = False
    stale: bool = False
    turned: frozenset[str] = frozenset()
    doubtful: frozenset[str] = frozenset()
    old: frozenset[str] = frozenset()
    whose: tuple[tuple[str, str], ...] = ()


def _directions(program: Program) -> dict[str, list[Node]]:
    found: dict[str, list[Node]] = {}
    for node in program.nodes.values():
        action = node.step.action
        if isinstance(action, Compute) and action.computation == "shaft-direction" and action.into:
            found.setdefault(node.scope.absolute(action.into), []).append(node)
    return found


@dataclass(frozen=True, slots=True)
class _Player:
    """Follows one direction.

    Args:
        direction: its name.
        behind: the names of what it is computed from: seen (a rotation) or reading.
        names: every name of the program.
    """

    direction: str
    behind: dict[str, str]
    names: frozenset[str]

    def harms(self, node: Node, course: Course) -> Iterator[str]:
        if course.unsure and self._tells(node):
            yield "read-back-first"
        for rotor, way in self._turns(node):
            if way is not None and course.of != rotor:
                yield "own-direction"
            if way is not None and (course.stale or way in course.turned):
                yield "fresh-direction"
        if self._computes(node):
            inputs = _inputs(node)
            rotor = _rotor(node, inputs["rotor"])
            for key in ("seen", "reading"):
                whose = dict(course.whose).get(_name(node, inputs[key], self.names), rotor)
                if whose not in ("unit", rotor):
                    yield "own-direction"

    def after(self, node: Node, _outcome: str, course: Course) -> Course:
        readings = {name for name, key in self.behind.items() if key == "reading"}
        acts = {act.kind.value for act in node.step.acts}
        turned = list(self._turns(node))
        by_it = {way for _, way in turned if way is not None}
        if turned or acts & (MOVES | {"crank-to-middle", "jog"}):
            course = replace(course, old=course.old | readings, turned=course.turned | by_it)
            if not by_it:
                course = replace(course, stale=bool(course.of))
        if self._computes(node):
            return self._computed(node, course)
        action = node.step.action
        if isinstance(action, Ask) and action.into and _kept(node) in self.behind:
            return _answered(node, action, course)
        return course

    def _computed(self, node: Node, course: Course) -> Course:
        inputs = _inputs(node)
        given = {_name(node, one, self.names) for one in inputs.values()}
        return replace(
            course,
            of=_rotor(node, inputs["rotor"]),
            unsure=bool(given & course.doubtful),
            stale=bool(given & course.old),
            turned=frozenset(),
        )

    def _computes(self, node: Node) -> bool:
        return isinstance(node.step.action, Compute) and _kept(node) == self.direction

    def _tells(self, node: Node) -> bool:
        """Whether a step speaks, does or decides by the direction."""
        references = _references(node)
        return any(_name(node, one, self.names) == self.direction for one in references)

    def _turns(self, node: Node) -> Iterator[tuple[str, str | None]]:
        """The rotors whose shafts a step has turned, and by which field of this direction."""
        for act in node.step.acts:
            if act.kind.value == "turn-shaft":
                told = dict(act.arguments)
                is_mine = _name(node, told["way"], self.names) == self.direction
                yield _rotor(node, told["rotor"]), told["way"].path[-1] if is_mine else None


def _answered(node: Node, ask: Ask, course: Course) -> Course:
    """What is asked anew stands as it is now, and is as sure as it was confirmed."""
    kept = _kept(node)
    doubtful = course.doubtful - {kept} if ask.read_back else course.doubtful | {kept}
    whose = dict(course.whose)
    whose[kept] = _rotor(node, ask.of) if ask.of else "unit"
    return replace(
        course,
        doubtful=doubtful,
        old=course.old - {kept},
        whose=tuple(sorted(whose.items())),
    )


def _inputs(node: Node) -> dict[str, Reference]:
    assert isinstance(node.step.action, Compute)
    return dict(node.step.action.inputs)


def _kept(node: Node) -> str:
    """The name of the answer or result of a step."""
    assert isinstance(node.step.action, Ask | Compute)
    return node.scope.absolute(node.step.action.into or "")


def _game_of(program: Program, direction: str) -> Game[Hashable]:
    names = _names(program)
    behind = {
        _name(node, reference, names): key
        for node in _directions(program)[direction]
        for key, reference in _inputs(node).items()
        if key != "rotor"
    }
    player = _Player(direction, behind, names)
    return Game(Course(), player.harms, player.after)  # type: ignore[arg-type]


def _rotor(node: Node, reference: Reference) -> str:
    return node.scope.rotors.get(reference.path[0], reference.path[0])


def _names(program: Program) -> frozenset[str]:
    return frozenset(name for node in program.nodes.values() for name in _given(node))


def _given(node: Node) -> set[str]:
    match node.step.action:
        case Ask(into=into, when=when):
            return {node.scope.absolute(name) for name in (into, when) if name}
        case Compute(into=into, because=because):
            return {node.scope.absolute(name) for name in (into, because) if name}
    return set()


def _name(node: Node, reference: Reference, names: Container[str]) -> str:
    return node.scope.resolve(reference.path, names)[0]


def _references(node: Node) -> Iterator[Reference]:
    """What a step says, does, decides by and keeps."""
    step = node.step
    texts: list[Template | None] = [step.say, step.deviation, *(one.text for one in step.notices)]
    match step.action:
        case Hold(reason=reason):
            texts.append(reason)
        case Branch(on=on):
            yield on
        case Compute(inputs=inputs):
            yield from (reference for _, reference in inputs)
        case Ask() as ask:
            yield from (one for one in (ask.of, ask.expect, ask.most) if isinstance(one, Reference))
    for text in texts:
        yield from text.references if text else ()
    for act in step.acts:
        yield from (reference for _, reference in act.arguments)
    yield from (one.reference for one in node.passes)


# A reading that is compared, and what was turned since


@dataclass(frozen=True, slots=True)
class Read:
    """A reading that is going to be compared.

    Args:
        old: whether a shaft was turned since it was read.
        just_turned: whether a shaft was turned, and the valve not moved since.
    """

    old: bool = False
    just_turned: bool = False


@dataclass(frozen=True, slots=True)
class _Comparing:
    """A comparison: its step, the name of the reading, and what is wrong with it anyhow."""

    at: str
    reading: str
    expects_before: bool
    is_wrong: bool

    def harms(self, node: Node, read: Read) -> Iterator[str]:
        # Past its trip a rotor stands otherwise than before it, and it was just set there.
        unlike = self.expects_before and read.just_turned
        if node.name == self.at and (self.is_wrong or read.old or unlike):
            yield "compared-reading"

    def after(self, node: Node, _outcome: str, read: Read) -> Read:
        acts = {act.kind.value for act in node.step.acts}
        if acts & (MOVES | {"crank-to-middle", "jog"}):
            read = replace(read, just_turned=False)
        if "turn-shaft" in acts:
            read = Read(old=True, just_turned=True)
        if isinstance(node.step.action, Ask) and self.reading == _kept(node):
            read = replace(read, old=False)
        return read


def _comparings(program: Program) -> Iterator[_Comparing]:
    names = _names(program)
    read = {
        _kept(node)
        for node in program.nodes.values()
        if isinstance(node.step.action, Ask) and node.step.action.kind.value == "contacts"
    }
    for node in program.nodes.values():
        match node.step.action:
            case Compute(computation="compare-readings"):
                expected, reading = (_inputs(node)[key] for key in ("expected", "reading"))
                whole = _name(node, reading, names)
                is_answer = whole in read and len(reading.path) == len(_own_path(node, whole))
                same = expected.path == reading.path
                before = expected.path[-1] == "before" and _is_of_the_unit(node, expected)
                yield _Comparing(node.name, whole, before, same or not is_answer)


def _own_path(node: Node, whole: str) -> list[str]:
    return whole.removeprefix(node.scope.prefix).split("/")


# A time, and what was done while it ran


@dataclass(frozen=True, slots=True)
class Watch:
    """Somebody with a watch.

    Args:
        runs: whether it was started at a mark, and nothing was asked or done since.
        right: of what a time or speed is computed from, what was taken while the thing was done.
    """

    runs: bool = False
    right: frozenset[str] = frozenset()


@dataclass(frozen=True, slots=True)
class _Timing:
    """A computation of a time or a speed.

    Args:
        at: its step.
        act: what is timed.
        inputs: what it is given, by the names in the whole program.
    """

    at: str
    act: str
    inputs: tuple[tuple[str, str], ...]

    def harms(self, node: Node, watch: Watch) -> Iterator[str]:
        # rpm = 60 n / t, with n and t of the same turn (arithmetic).
        if node.name == self.at and watch.right != {key for key, _ in self.inputs}:
            yield "timed-act"

    def after(self, node: Node, outcome: str, watch: Watch) -> Watch:
        names = dict(self.inputs)
        given = {key for key, name in self.inputs if name in _given(node)}
        action = node.step.action
        if self.act in {act.kind.value for act in node.step.acts}:
            began = {"begun"} if watch.runs else set()
            return Watch(right=frozenset(began | self._taken(node, outcome)))
        if _is_a_mark(node) and not node.step.acts and _moment(node) == names["begun"]:
            return Watch(runs=True)
        stays = not (node.step.acts or isinstance(action, Ask | Hold))
        return Watch(watch.runs and stays, watch.right - given)

    def _taken(self, node: Node, outcome: str) -> set[str]:
        """What is taken as the thing has been done."""
        match node.step.action:
            case Ask(into=into, instead=instead):
                moment = _moment(node)
                count = into and node.scope.absolute(into)
                kept = {"stopped": moment, "turns": None if outcome in instead else count}
                return {key for key, name in self.inputs if kept.get(key) == name}
        return set()


def _moment(node: Node) -> str | None:
    """The name of the moment at which a step is answered."""
    match node.step.action:
        case Ask(when=str(when)):
            return node.scope.absolute(when)
    return None


def _timings(program: Program) -> Iterator[_Timing]:
    timed = {"shaft-speed": "turn-shaft", "stroke-time": "stroke"}
    names = _names(program)
    for node in program.nodes.values():
        match node.step.action:
            case Compute(computation=name) if name in timed:
                given = {
                    key: node.name if _is_of_the_unit(node, one) else _name(node, one, names)
                    for key, one in _inputs(node).items()
                    if key != "unit"
                }
                yield _Timing(node.name, timed[name], tuple(sorted(given.items())))


# A rotor, and what was shown of it since it may have moved


@dataclass(frozen=True, slots=True)
class Rotor:
    """What there is to be said for a rotor.

    Args:
        counts: whether it was set or looked at on this way.
        any_set: whether any rotor was.
        sound: whether the contacts stood as drawn before the trip, since it may have moved.
        placed: whether they changed over where it is drawn, since then.
        of: how many rotors the unit has, where a way was chosen by that.
        nowhere: whether no unit can come here.
    """

    counts: bool = False
    any_set: bool = False
    sound: bool = True
    placed: bool = True
    of: str = ""
    nowhere: bool = False


def _rotors(program: Program) -> set[str]:
    """The rotors of the unit that are set or proved somewhere."""
    return {rotor for node in program.nodes.values() for rotor in (*_set(node), *_proved(node))}


def _set(node: Node) -> set[str]:
    """The rotors whose shafts a step has turned."""
    turned = (act for act in node.step.acts if act.kind.value == "turn-shaft")
    return {_rotor(node, dict(act.arguments)["rotor"]) for act in turned}


def _proved(node: Node) -> set[str]:
    """The rotor that a step computes a proof of."""
    match node.step.action:
        case Compute(computation="prove-sense" | "prove-trip"):
            return {_rotor(node, _inputs(node)["rotor"])}
    return set()


def _harms_of_rotor(_name: str, node: Node, rotor: Rotor) -> Iterator[str]:
    # No supply is given back before every rotor was proved (common practice).
    relies = any(act.kind.value in ("energise", "restore-supplies") for act in node.step.acts)
    if relies and rotor.counts and not rotor.nowhere and not (rotor.sound and rotor.placed):
        yield "rotor-proved"


def _rotor_after(name: str, node: Node, outcome: str, rotor: Rotor) -> Rotor:
    tried = any(act.kind.value == "try-shafts" for act in node.step.acts)
    locked = "rods-engaged" in {fact.value for fact in node.step.proves.get(outcome, ())}
    turned = _set(node)
    if turned or (rotor.any_set and tried and not locked):
        # Setting one may have moved another, and a shaft that was free may have drifted.
        counts = rotor.counts or name in turned
        return replace(rotor, counts=counts, any_set=True, sound=False, placed=False)
    match node.step.action:
        case Compute(computation="prove-sense") if name in _proved(node) and outcome == "drawn":
            return replace(rotor, counts=True, sound=True)
        case Compute(computation="prove-trip") if name in _proved(node) and outcome == "right":
            return replace(rotor, counts=True, placed=True)
        case Branch(on=on) if on.path == ("unit", "rotor-count"):
            other = rotor.of not in ("", outcome)
            return replace(rotor, of=outcome, nowhere=rotor.nowhere or other)
    return rotor


# Numbers, and what they count

# Handwheel turns move the valve, revolutions a shaft (common practice).
COUNTS = {
    **dict.fromkeys(
        [
            ("prove-trip", "turns"),
            ("bypass", "unseated"),
            ("add-to-sweep", "turns"),
            ("end-sweep", "turns"),
            ("adopt-stroke", "again"),
            ("distance-to-stop", "turns"),
        ],
        "turns",
    ),
    ("shaft-speed", "turns"): "revolutions",
    ("within-cycle", "turns"): "revolutions",
}
OF_THE_SHEET = {
    "unit.stroke": "turns",
    "unit.most-turns": "turns",
    "unit.most-revolutions": "revolutions",
    "unit.search": "revolutions",
    "rotor.trip": "%",
}
"""Units of the sheet's numbers; the others of a rotor are turns of the handwheel."""


def of_another_unit(program: Program) -> bool:
    """Whether a number can be of something else than is counted where it is used."""
    names = _names(program)
    asked: dict[str, set[str]] = {}
    for node in program.nodes.values():
        match node.step.action:
            case Ask(unit=str(unit), into=str()):
                asked.setdefault(_kept(node), set()).add(unit)
    return any(
        _counted_in(node, told, asked, names) - {unit}
        for node in program.nodes.values()
        for told, unit in _counts(node)
    )


def _counts(node: Node) -> Iterator[tuple[Reference, str]]:
    for act in node.step.acts:
        yield from ((told, "turns") for key, told in act.arguments if key in ("turns", "most"))
    match node.step.action:
        case Compute(computation=name):
            for key, told in _inputs(node).items():
                if (name, key) in COUNTS:
                    yield told, COUNTS[name, key]
        case Ask(unit=str(unit), most=Reference() as most):
            yield most, unit


def _counted_in(
    node: Node, told: Reference, asked: dict[str, set[str]], names: Container[str]
) -> set[str]:
    if _is_of_the_unit(node, told):
        head = "unit" if told.path[0] == "unit" else "rotor"
        return {OF_THE_SHEET.get(f"{head}.{told.path[-1]}", "turns")}
    return asked.get(_name(node, told, names), set())


# Ways that a job can take, whatever the trade


def without_value(program: Program) -> frozenset[Harm]:
    """Steps that can be come to while a name that they use was given no value."""
    papers = set(program.procedure.papers)
    names = _names(program) | papers
    used = {node.name: _used(node, _references(node), names) for node in program.nodes.values()}
    kept = {
        node.name: _used(node, (record.value for record in node.step.records), names)
        for node in program.nodes.values()
    }
    never = (
        ("names", node.name)
        for node in program.nodes.values()
        for one in chain(_references(node), (record.value for record in node.step.records))
        if _name(node, one, names) not in names and not _is_of_the_unit(node, one)
    )
    sometimes = (
        ("names", step)
        for name in names - papers
        if name.rpartition("/")[2] != "unit"  # the unit sheet gives that a value
        for step in _steps_without(program, name, used, kept)
    )
    return frozenset(chain(never, sometimes))


def _is_of_the_unit(node: Node, reference: Reference) -> bool:
    """Whether a name is the unit or one of its rotors, which the unit sheet gives a value."""
    return reference.path[0] == "unit" or reference.path[0] in node.scope.rotors


def _used(node: Node, references: Iterable[Reference], names: Container[str]) -> set[str]:
    return {_name(node, one, names) for one in references}


def _steps_without(
    program: Program, name: str, used: dict[str, set[str]], kept: dict[str, set[str]]
) -> Iterator[str]:
    giving = {at for at, node in program.nodes.items() if name in _given(node)}
    stack, seen = [(program.start, False)], {(program.start, False)}
    while stack:
        at, has = stack.pop()
        node = program.nodes[at]
        ways = {one: _has(node, one, name) if at in giving else has for one in node.targets}
        if (name in used[at] and not has) or (name in kept[at] and not all(ways.values())):
            yield at
        for outcome, target in node.targets.items():
            there = (target, ways[outcome])
            if there not in seen:
                seen.add(there)
                stack.append(there)


def _has(node: Node, outcome: str, name: str) -> bool:
    """Whether a name has a value after a step that gives it one, by some of its outcomes."""
    match node.step.action:
        case Compute(into=str(into)) if outcome in NOTHING_COMPUTED:
            return name != node.scope.absolute(into)
        case Ask(instead=instead, into=str(into)) if outcome in instead:
            return name != node.scope.absolute(into)
    return True


def without_limit(program: Program) -> bool:
    """Whether a job could go round for ever with nobody deciding to carry on.

    Steps are taken away while they lead nowhere but to steps that were taken away.
    """
    ways = {
        name: {
            target
            for outcome, target in node.targets.items()
            if not isinstance(node.step.action, Hold)
            and not (isinstance(node.step.action, Repeat) and outcome == "again")
        }
        for name, node in program.nodes.items()
    }
    while True:
        done = {name for name, targets in ways.items() if not targets & ways.keys()}
        if not done:
            return bool(ways)
        ways = {name: targets for name, targets in ways.items() if name not in done}


def without_end(program: Program) -> frozenset[Harm]:
    """Steps that can be come to, and from which a job can never end."""
    can = {name for name, node in program.nodes.items() if isinstance(node.step.action, End)}
    while True:
        more = can | {
            name for name, node in program.nodes.items() if can & set(node.targets.values())
        }
        if more == can:
            reached = _reachable(program, program.start)
            return frozenset(("no-end", name) for name in reached - can)
        can = more


def _reachable(program: Program, start: str) -> set[str]:
    stack, seen = [start], {start}
    while stack:
        for target in program.nodes[stack.pop()].targets.values():
            if target not in seen:
                seen.add(target)
                stack.append(target)
    return seen
