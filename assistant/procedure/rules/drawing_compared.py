"""The drawing and its revision before the first act.

A valve that is set by another revision than the one it was wired to is set wrong. So on every way
to the first thing that is done to the valve the revision of the drawing at hand is spelled and
compared with the unit sheet (``expect: unit.revision``, going on after *match*), and the drawing is
compared too (``expect: unit.drawing``) or named, ``{unit.drawing}``. Source: 10 CFR 72.174 for
drawing and revision in the record; that they are compared first, common practice.

Passes::

    procedure: sample
    title: A sample
    revision: A
    about: A sample.
    steps:
      - step: revision
        say: Spell the revision of drawing {unit.drawing}.
        ask: spelling
        expect: unit.revision
        go: {match: try, mismatch: other}
      - step: other
        hold: That is another revision. Get the right drawing.
        go: revision
      - step: try
        say: Try every shaft. Say done.
        does: try-shafts
        ask: done
      - step: end
        say: The end.
        end: job

Fails::

    procedure: sample
    title: A sample
    revision: A
    about: A sample.
    steps:
      - step: try
        say: Try every shaft. Say done.
        does: try-shafts
        ask: done
      - step: end
        say: The end.
        end: job
"""

from __future__ import annotations

from collections.abc import Iterator

from assistant.procedure.model import Ask, Reference
from assistant.procedure.program import Node
from assistant.procedure.rules.rule import Finding, Level, ProgramRule, Settings
from assistant.procedure.rules.spoken import spoken_at
from assistant.procedure.rules.subject import Subject
from assistant.procedure.ways import arrivals, told

__all__ = ["RULE"]

_DRAWING, _REVISION = ("unit", "drawing"), ("unit", "revision")

_REMEDIES = {
    _REVISION: (
        "the revision of the drawing at hand compared: let each way pass an 'ask: spelling' with "
        "'expect: unit.revision', and go on only after 'match'"
    ),
    _DRAWING: (
        "the drawing named: say '{unit.drawing}' where its revision is asked, or let it be "
        "spelled with 'expect: unit.drawing'"
    ),
}

Compared = frozenset[tuple[str, ...]]
"""Which of the two were compared or named on the way."""


def _check(subject: Subject, _settings: Settings) -> Iterator[Finding]:
    if subject.is_part:
        return
    nothing: Compared = frozenset()
    found: set[tuple[str, ...]] = set()
    for arrival in arrivals(subject.program, nothing, _left):
        step = arrival.node.step
        if not step.acts:
            continue
        for what, remedy in _REMEDIES.items():
            if what not in arrival.state and what not in found:
                # The first act stands for those that follow it.
                found.add(what)
                message = f"a way leads to '{step.acts[0].kind}' without {remedy}"
                yield Finding(step.place, message, told(arrival))


def _left(node: Node, outcome: str, compared: Compared) -> Compared:
    step = node.step
    named = {
        reference.path for spoken in spoken_at(step) for reference in spoken.template.references
    } & {_DRAWING}
    match step.action:
        case Ask(expect=Reference(path=path)) if outcome == "match":
            named |= {path} & _REMEDIES.keys()
    return compared | named


RULE = ProgramRule("drawing-compared", Level.WARNING, _check)
