"""Read the question of a step, and see that it can be answered in the words of the phrase book."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, replace

from assistant.language.answers import AskAgreement, AskChoice, AskNumber, Question, grammar
from assistant.language.english import english
from assistant.language.numbers import LARGEST
from assistant.procedure.fields import Fields, as_items, as_text, nearest, quoted, read_each
from assistant.procedure.located import Located
from assistant.procedure.model import Ask, AskKind, Reference
from assistant.procedure.problems import Place, refuse
from assistant.procedure.texts import read_name, read_reference

__all__ = ["ASK_FIELDS", "READ_BACK", "WITH_CONTENT", "AskFields", "read_ask"]


@dataclass(frozen=True, slots=True)
class AskFields:
    """The fields of a step that belong to one kind of question.

    Args:
        reads_back: whether the answer decides something and is easily misheard: then it counts only
            after a confirmation, unless the step says otherwise. Source: three-part exchange,
            DOE-STD-1031-92 §4.1.2.3 to 4.1.2.5.
        needs: those that must be there.
        may: those that may be.
    """

    reads_back: bool
    needs: tuple[str, ...] = ()
    may: tuple[str, ...] = ()


ASK_FIELDS: Mapping[AskKind, AskFields] = {
    AskKind.DONE: AskFields(reads_back=False),
    AskKind.YES_NO: AskFields(reads_back=False),
    AskKind.CONTACTS: AskFields(reads_back=True, needs=("of",)),
    AskKind.ROTATION: AskFields(reads_back=True, needs=("of",)),
    AskKind.NUMBER: AskFields(
        reads_back=True, needs=("unit", "least", "most"), may=("called", "instead")
    ),
    AskKind.CHOICE: AskFields(reads_back=False, needs=("choices",)),
    AskKind.MARK: AskFields(reads_back=False),
    AskKind.SPELLING: AskFields(reads_back=True, may=("expect",)),
    AskKind.LAMPS: AskFields(reads_back=True, needs=("of",)),
    AskKind.AGREEMENT: AskFields(reads_back=False, needs=("by",)),
}
"""What each kind of question takes besides 'into', 'when' and 'read-back'."""

READ_BACK = frozenset(kind for kind, fields in ASK_FIELDS.items() if fields.reads_back)
"""Questions whose answers are read back unless the step says otherwise."""

WITH_CONTENT = READ_BACK | {AskKind.CHOICE}
"""Answers of which something can be repeated; "I heard yes" would say nothing."""

_VALUE = re.compile(r"[a-z].*")


def read_ask(value: Located, fields: Fields) -> Ask:
    """Read a question.

    Args:
        value: the kind of the question.
        fields: of the step, from which the question takes those that its kind has.
    """
    kind = _kind(value)
    own = ASK_FIELDS[kind]
    into = fields.take("into")
    when = fields.take("when")
    ask = Ask(
        kind=kind,
        of=read_reference(fields.need("of"), "'of'") if "of" in own.needs else None,
        choices=_choices(fields) if "choices" in own.needs else (),
        expect=_expect(fields) if "expect" in own.may else None,
        by=_role(fields) if "by" in own.needs else None,
        into=None if into is None else read_name(into, "'into'"),
        when=None if when is None else read_name(when, "'when'"),
        read_back=_read_back(kind, fields),
    )
    return _with_number(ask, fields) if "unit" in own.needs else ask


def _kind(value: Located) -> AskKind:
    text = as_text(value, "'ask'")
    known = [kind.value for kind in AskKind]
    if text not in known:
        hint = nearest(text, known)
        refuse(value.place, f"no question is of the kind {quoted(text)}; {hint}", "ask")
    return AskKind(text)


def _read_back(kind: AskKind, fields: Fields) -> bool:
    value = fields.take("read-back")
    if value is None:
        return kind in READ_BACK
    if kind not in WITH_CONTENT:
        refuse(value.place, f"an answer to '{kind}' cannot be read back: remove it", "read-back")
    text = as_text(value, "'read-back'")
    if text not in ("yes", "no"):
        refuse(value.place, f"'read-back' is yes or no, not {quoted(text)}", "read-back")
    return text == "yes"


def _with_number(ask: Ask, fields: Fields) -> Ask:
    unit = fields.text("unit")
    _refuse_unanswerable(AskNumber(unit), fields.need("unit").place)
    called, instead = _words(fields, "called"), _words(fields, "instead")
    if called or instead:
        place = fields.place_of("called" if called else "instead")
        _refuse_unanswerable(AskNumber(unit, called, instead), place)
    least, most = fields.number("least"), _most(fields)
    for name, limit in (("least", least), ("most", most)):
        if isinstance(limit, float) and not 0 <= limit <= LARGEST:
            _refuse_unsayable(name, limit, fields.need(name).place)
    if isinstance(most, float) and not least < most:
        refuse(fields.need("least").place, f"'least' must be below 'most', {most:g}", "ask")
    return replace(ask, unit=unit, least=least, most=most, called=called, instead=instead)


def _refuse_unsayable(name: str, limit: float, place: Place) -> None:
    remedy = "ask for it in another unit, or for its figures by 'ask: spelling'"
    if limit < 0:
        remedy = "begin at 0, and ask in a step of its own how far it is below"
    message = f"'{name}' is {limit:g}, but numbers from 0 to {LARGEST:g} can be said: {remedy}"
    refuse(place, message, "ask")


def _most(fields: Fields) -> float | Reference:
    value = fields.need("most")
    if _VALUE.fullmatch(as_text(value, "'most'")):
        return read_reference(value, "'most'")
    return fields.number("most")


def _words(fields: Fields, name: str) -> tuple[str, ...]:
    value = fields.take(name)
    if value is None:
        return ()
    words = read_each(as_items(value, f"'{name}'"), lambda item: read_name(item, "a word"))
    if "next" in words:
        refuse(value.place, "no word can be called 'next', which is a way to go on", "ask")
    return words


def _role(fields: Fields) -> str:
    role = fields.text("by")
    _refuse_unanswerable(AskAgreement(role), fields.need("by").place)
    return role


def _choices(fields: Fields) -> tuple[str, ...]:
    value = fields.need("choices")
    choices = read_each(as_items(value, "'choices'"), lambda item: read_name(item, "a choice"))
    if len(choices) < 2 or len(set(choices)) < len(choices):
        refuse(value.place, "'choices' must be two or more different words", "ask")
    if "next" in choices:
        refuse(value.place, "no choice can be called 'next', which is a way to go on", "ask")
    _refuse_unanswerable(AskChoice(choices), value.place)
    return choices


def _refuse_unanswerable(question: Question, place: Place) -> None:
    try:
        grammar(question, english())
    except ValueError as error:
        refuse(place, str(error), "ask")


def _expect(fields: Fields) -> Reference | None:
    value = fields.take("expect")
    return None if value is None else read_reference(value, "'expect'")
