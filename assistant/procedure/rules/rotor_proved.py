"""Every rotor that was set is proved before the motor can run.

That a rotor was set shows nothing yet: it may stand at the inverted change-over, or beside its
mark, and setting one may have moved another. So once a shaft was turned, or found free after that,
every rotor is proved anew: ``prove-sense`` says ``drawn`` and ``prove-trip`` says ``right``, each
for this rotor, before ``energise`` and ``restore-supplies``. One that is proved twice proves no
other. Source: common practice.

Passes::

    - step: watch
      say: Which way did the {rotor.name} shaft turn?
      ask: rotation
      of: rotor
      into: way
    - step: turn
      caution: Never above two hundred turns a minute. The gears would break.
      say: Turn the {rotor.name} shaft {way}. Say done.
      does:
        - turn-shaft: {rotor: rotor, way: way}
      ask: done
    - step: before
      say: Read contacts {rotor.contacts} before the trip.
      ask: contacts
      of: rotor.contacts
      into: reading
    - step: sense
      compute: prove-sense
      from: {rotor: rotor, reading: reading}
      go: {drawn: on, inverted: wrong, unclear: wrong}
    - step: on
      say: Crank to the change-over. How many turns?
      ask: number
      unit: turns
      least: 0
      most: 30
      into: turns
    - step: trip
      compute: prove-trip
      from: {rotor: rotor, turns: turns}
      into: trip
      go: {right: supplies, wrong: wrong}
    - step: wrong
      hold: It is not where it is drawn.
      go: before
    - step: supplies
      say: Take the locks off. Say done.
      does: restore-supplies
      ask: done

Fails::

    - step: watch
      say: Which way did the {rotor.name} shaft turn?
      ask: rotation
      of: rotor
      into: way
    - step: turn
      caution: Never above two hundred turns a minute. The gears would break.
      say: Turn the {rotor.name} shaft {way}. Say done.
      does:
        - turn-shaft: {rotor: rotor, way: way}
      ask: done
    - step: supplies
      say: Take the locks off. Say done.
      does: restore-supplies
      ask: done
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from assistant.procedure.deeds import ActKind
from assistant.procedure.model import Branch, Reference
from assistant.procedure.program import Node
from assistant.procedure.proofs import SHOWN_BY, found_free, shown_of
from assistant.procedure.rules.rule import Finding, Level, ProgramRule, Settings
from assistant.procedure.rules.subject import Subject
from assistant.procedure.ways import arrivals, told

__all__ = ["RULE"]

_LETS_IT_RUN = (ActKind.ENERGISE, ActKind.RESTORE_SUPPLIES)


@dataclass(frozen=True, slots=True)
class _Proofs:
    """What is shown of the rotors on a way.

    Args:
        is_set: whether a shaft was turned.
        rotors: those whose shafts were turned, or of which something was shown.
        unshown: what is not shown of which of them, since a shaft was turned or found free.
        count: how many the unit has, by the branch that was taken.
    """

    is_set: bool = False
    rotors: frozenset[str] = frozenset()
    unshown: frozenset[tuple[str, str]] = frozenset()
    count: str = ""

    def moved(self, turned: frozenset[str]) -> _Proofs:
        """After the shafts of these were turned: any other may have moved with them."""
        every = self.rotors | turned
        unshown = frozenset((one, what) for one in every for what in SHOWN_BY)
        return replace(self, is_set=True, rotors=every, unshown=unshown)

    def shown(self, rotor: str, what: str) -> _Proofs:
        """After something was shown of a rotor."""
        shown = {(rotor, what)}
        return replace(self, rotors=self.rotors | {rotor}, unshown=self.unshown - shown)


_Way = _Proofs | None
"""None where no unit can take a way: the count of its rotors does not change on it."""


def _check(subject: Subject, _settings: Settings) -> Iterator[Finding]:
    if subject.is_part:
        return  # whether its rotor is proved is for the procedure that calls it
    at_start: _Way = _Proofs()
    found: set[tuple[str, str]] = set()
    for arrival in arrivals(subject.program, at_start, _left):
        node, proofs = arrival.node, arrival.state
        if proofs is None or not (act := _relies(node)):
            continue
        for rotor in sorted({one for one, _ in proofs.unshown}):
            if (node.name, rotor) not in found:
                found.add((node.name, rotor))
                message = (
                    f"a way leads to '{act}' without the {rotor} rotor proved: after the last "
                    "shaft was turned or found free, let each way pass 'prove-sense' with 'drawn' "
                    "and 'prove-trip' with 'right' for it"
                )
                yield Finding(node.step.place, message, told(arrival))


def _relies(node: Node) -> ActKind | None:
    """What a step does after which the motor can run; None where it does nothing of the kind."""
    return next((act.kind for act in node.step.acts if act.kind in _LETS_IT_RUN), None)


def _left(node: Node, outcome: str, proofs: _Way) -> _Way:
    if proofs is None:
        return None
    turned = frozenset(
        _rotor(node, dict(act.arguments)["rotor"])
        for act in node.step.acts
        if act.kind is ActKind.TURN_SHAFT
    )
    if turned or (proofs.is_set and found_free(node, outcome)):
        return proofs.moved(turned)
    if (shown := shown_of(node, outcome)) is not None:
        return proofs.shown(*shown)
    match node.step.action:
        case Branch(on=Reference(path=("unit", "rotor-count"))):
            return replace(proofs, count=outcome) if proofs.count in ("", outcome) else None
    return proofs


def _rotor(node: Node, reference: Reference) -> str:
    """The unit's rotor that a reference of a step begins with."""
    return node.scope.rotor(reference.path[0])


RULE = ProgramRule("rotor-proved", Level.ERROR, _check)
