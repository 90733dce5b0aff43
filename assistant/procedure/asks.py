"""Read the question of a step, and see that it can be answered in the words of the phrase book."""

from __future__ import annotations

from assistant.language.answers import AskChoice, AskNumber, Question, grammar
from assistant.language.english import english
from assistant.procedure.fields import Fields, as_items, as_text, nearest, quoted, read_each
from assistant.procedure.located import Located
from assistant.procedure.model import Ask, AskKind, Reference
from assistant.procedure.problems import Place, refuse
from assistant.procedure.texts import read_name, read_reference

__all__ = ["read_ask"]


def read_ask(value: Located, fields: Fields) -> Ask:
    """Read a question.

    Args:
        value: the kind of the question.
        fields: of the step, from which the question takes those that its kind has.
    """
    kind = _kind(value)
    into = fields.take("into")
    unit, least, most = _number(fields) if kind is AskKind.NUMBER else (None, None, None)
    return Ask(
        kind=kind,
        of=_of(kind, fields),
        unit=unit,
        least=least,
        most=most,
        choices=_choices(fields) if kind is AskKind.CHOICE else (),
        expect=_expect(fields) if kind is AskKind.SPELLING else None,
        into=None if into is None else read_name(into, "'into'"),
    )


def _kind(value: Located) -> AskKind:
    text = as_text(value, "'ask'")
    known = [kind.value for kind in AskKind]
    if text not in known:
        hint = nearest(text, known)
        refuse(value.place, f"no question is of the kind {quoted(text)}; {hint}", "ask")
    return AskKind(text)


def _of(kind: AskKind, fields: Fields) -> Reference | None:
    if kind not in (AskKind.CONTACTS, AskKind.ROTATION):
        return None
    return read_reference(fields.need("of"), "'of'")


def _number(fields: Fields) -> tuple[str, float, float]:
    unit = fields.text("unit")
    _refuse_unanswerable(AskNumber(unit), fields.need("unit").place)
    least, most = fields.number("least"), fields.number("most")
    if not least < most:
        refuse(fields.need("least").place, f"'least' must be below 'most', {most:g}", "ask")
    return unit, least, most


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
