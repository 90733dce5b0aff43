"""Under a name that the record reads again stands what it takes it for.

The record and the comparison with an independent check go by the names of values: ``as-left`` is
where a rotor was proved to change over, ``after-setting`` how its contacts were left. A reading
under ``as-left`` makes the rotor one that was never proved. So each such name has its kind, and a
number its unit; the names are listed in the writer's guide (`procedures/README.md`). Source: common
practice; as found and as left in a record, 10 CFR 72.174.

Passes::

    - step: read
      say: Read contacts {rotor.contacts}.
      ask: contacts
      of: rotor.contacts
      into: left
      record: {after-setting: left}

Fails::

    - step: read
      say: Read contacts {rotor.contacts}.
      ask: contacts
      of: rotor.contacts
      into: left
      record: {as-left: left}
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from assistant.procedure.model import Reference
from assistant.procedure.names import kind_of, kinds_of
from assistant.procedure.number_units import NumberUnits
from assistant.procedure.program import Node
from assistant.procedure.record_names import recorded_as
from assistant.procedure.rules.rule import Finding, Level, ProgramRule, Settings
from assistant.procedure.rules.subject import Subject
from assistant.procedure.values import FIELDS, Kind

__all__ = ["RULE"]


def _check(subject: Subject, _settings: Settings) -> Iterator[Finding]:
    kinds = kinds_of(subject.program)
    units = NumberUnits(subject.program)
    for node in subject.program.nodes.values():
        for record in node.step.records:
            wanted = recorded_as(record.name)
            if wanted is None:
                continue
            kind = _kind(node, record.value, kinds)
            others = units.of(node, record.value) - {wanted.unit}
            if kind is not None and kind not in wanted.kinds:
                message = (
                    f"'{record.name}' in the record is read as {_one_of(wanted.kinds)}, and "
                    f"'{record.value}' is of the kind {kind}: record that, or use another name"
                )
                yield Finding(record.value.place, message)
            elif wanted.unit and others:
                message = (
                    f"'{record.name}' in the record is read in {wanted.unit}, and "
                    f"'{record.value}' is in {min(others)}: record that, or use another name"
                )
                yield Finding(record.value.place, message)


def _kind(node: Node, reference: Reference, kinds: Mapping[str, Kind]) -> Kind | None:
    kind, fields = kind_of(node, reference.path, kinds)
    for name in fields:
        field = FIELDS.get(kind, {}).get(name) if kind is not None else None
        kind = None if field is None else field.kind
    return kind


def _one_of(kinds: frozenset[Kind]) -> str:
    return " or ".join(sorted(kinds))


RULE = ProgramRule("record-kind", Level.ERROR, _check)
