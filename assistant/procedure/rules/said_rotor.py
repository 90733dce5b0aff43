"""The rotor that is said is the one that is turned, watched or read.

A valve has two or four rotors, whose shafts look alike. Who hears of another one, or of none, turns
or watches the wrong shaft: a rotor that was right is set wrong, or a direction is computed from
another's. So a step that has a shaft turned, or asks which way one turned, says the rotor's name;
one that asks for the contacts of a rotor says them, or its name; and none of them says another's.
So does a ``mark`` question right before a turn: at *mark* the shaft turns already. Where all
contacts of the unit are asked for, those of one rotor are not said. Source: common practice.

A rotor's name is seen as a value (``rotor.name``, ``rotor.contacts``) or as words, "the open shaft"
and "the open rotor"; numbers of contacts that are written out are not.

Passes::

    - step: watch
      say: Crank to the {rotor.stop}. Which way did the {rotor.name} shaft turn?
      does:
        - crank-to-stop: {toward: rotor.to-stop}
      ask: rotation
      of: rotor
      into: way
    - step: read
      say: Read contacts {rotor.contacts}.
      ask: contacts
      of: rotor.contacts
      into: found
    - step: all
      say: Read all contacts.
      ask: contacts
      of: unit.contacts
      into: every

Fails::

    - step: watch
      say: Crank to the {rotor.stop}. Which way did the closed shaft turn?
      does:
        - crank-to-stop: {toward: rotor.to-stop}
      ask: rotation
      of: rotor
      into: way

Fails::

    - step: watch
      say: Which way did the {rotor.name} shaft turn?
      ask: rotation
      of: rotor
      into: way
    - step: turn
      caution: Never above two hundred turns a minute. The gears would break.
      say: Turn the shaft {way}. Say done.
      does:
        - turn-shaft: {rotor: rotor, way: way}
      ask: done

Fails::

    - step: read
      say: Read contacts {unit.contacts}.
      ask: contacts
      of: rotor.contacts
      into: found

Fails::

    - step: read
      say: Read contacts {rotor.contacts}.
      ask: contacts
      of: unit.contacts
      into: found
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass

from assistant.procedure.deeds import ActKind
from assistant.procedure.model import Ask, AskKind, Reference
from assistant.procedure.program import Node
from assistant.procedure.rules.right_before import announces, right_before
from assistant.procedure.rules.rule import Finding, Level, ProgramRule, Settings
from assistant.procedure.rules.subject import Subject
from assistant.trade.sheet import ROTOR_NAMES

__all__ = ["RULE"]

_IN_WORDS = re.compile(
    rf"\b({'|'.join(ROTOR_NAMES)})\s+(?:intermediate\s+)?(?:shaft|rotor)\b", re.IGNORECASE
)
_ALL = "unit"


@dataclass(frozen=True, slots=True)
class _About:
    """What a step is about.

    Args:
        rotor: the name of the unit's rotor, or of a part's input where a part is checked alone;
            `_ALL` for every rotor.
        why: what makes it so, in the writer's words.
        say: what says it.
    """

    rotor: str
    why: str
    say: str


@dataclass(frozen=True, slots=True)
class _Said:
    """A rotor in a text: the words, as they were written, and which it is, as in `_About`."""

    words: str
    rotor: str
    is_contacts: bool


def _check(subject: Subject, _settings: Settings) -> Iterator[Finding]:
    before = right_before(subject.program)
    for node in subject.program.nodes.values():
        turned = tuple(_turned(node))
        yield from _misnamed(node, (*turned, *_asked(node)))
        for mark in before.get(node.name, ()):
            if turned and announces(mark.step):
                yield from _misnamed(mark, turned)


def _turned(node: Node) -> Iterator[_About]:
    """The rotors whose shafts a step has turned."""
    for act in node.step.acts:
        if act.kind is ActKind.TURN_SHAFT:
            rotor = dict(act.arguments)["rotor"]
            yield _About(_rotor(node, rotor), f"'{act.kind}' is told '{rotor}'", _shaft(rotor))


def _asked(node: Node) -> Iterator[_About]:
    """The rotor whose shaft or contacts a step asks about."""
    match node.step.action:
        case Ask(kind=AskKind.ROTATION, of=Reference() as of):
            yield _About(_rotor(node, of), f"the shaft of '{of}' is asked about", _shaft(of))
        case Ask(kind=AskKind.CONTACTS, of=Reference(path=("unit", *_)) as of):
            yield _About(_ALL, f"'{of}' are asked for", f"'all contacts' or '{{{of}}}'")
        case Ask(kind=AskKind.CONTACTS, of=Reference() as of) if of.path[0] in node.scope.rotors:
            yield _About(_rotor(node, of), f"'{of}' are asked for", f"'contacts {{{of}}}'")


def _misnamed(node: Node, about: tuple[_About, ...]) -> Iterator[Finding]:
    """What a step says of other rotors than those it is about, and of which of these it is mute."""
    if not about:
        return
    place = node.step.place if node.step.say is None else node.step.say.place
    said = tuple(_said(node))
    for one in said:
        if _is_another(one, {those.rotor for those in about}):
            message = (
                f"'{one.words}' is said, and {about[0].why}: say {about[0].say}, and no other rotor"
            )
            yield Finding(place, message)
            return
    named = {one.rotor for one in said}
    for those in about:
        if those.rotor not in (_ALL, *named):
            yield Finding(place, f"{those.why}, and it is not said which: say {those.say}")


def _is_another(said: _Said, meant: set[str]) -> bool:
    """Whether something is said of a rotor that is not meant.

    Where all contacts are asked for, a rotor may be named: at its place they may be read.
    """
    return said.rotor not in meant and (said.is_contacts or _ALL not in meant)


def _said(node: Node) -> Iterator[_Said]:
    """The rotors that a step names, and those of which it names the contacts."""
    say = node.step.say
    if say is None:
        return
    for value in say.references:
        match value.path:
            case ("unit", "contacts"):
                yield _Said(f"{{{value}}}", _ALL, is_contacts=True)
            case (head, "name" | "contacts" as field) if head in node.scope.rotors:
                yield _Said(f"{{{value}}}", _rotor(node, value), field == "contacts")
    for found in _IN_WORDS.finditer(say.plain):
        yield _Said(found[0], found[1].lower(), is_contacts=False)


def _rotor(node: Node, reference: Reference) -> str:
    """The unit's rotor that a reference of a step begins with."""
    return node.scope.rotor(reference.path[0])


def _shaft(rotor: Reference) -> str:
    return f"'the {{{rotor}.name}} shaft'"


RULE = ProgramRule("said-rotor", Level.ERROR, _check)
