"""The JSON Schema of a step: its fields, and which of them go together.

What a step is follows from one field (``ask: number``, ``compute: …``, ``hold: …``). Each of these
forms says which further fields it needs and may have, and after which outcomes it goes on.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field

from assistant.language.english import english
from assistant.language.numbers import LARGEST
from assistant.procedure.asks import ASK_FIELDS, WITH_CONTENT
from assistant.procedure.computing import COMPUTATIONS
from assistant.procedure.deeds import ACTS, ActKind
from assistant.procedure.model import (
    RETURN_WITH,
    Action,
    Ask,
    AskKind,
    Compute,
    End,
    Hold,
    NoticeKind,
    Reference,
    Repeat,
    Step,
    Tell,
    Template,
)
from assistant.procedure.outcomes import outcomes_of
from assistant.procedure.problems import Place
from assistant.procedure.schema.descriptions import arguments_of, summary_of
from assistant.procedure.schema.fragments import (
    REFERENCE_TEXT,
    TEMPLATE,
    Schema,
    described,
    list_of,
    named,
    number,
    one_or_more,
    quantity,
    table,
    table_of,
    word,
)
from assistant.procedure.steps import ACTIONS, MOST_REPEATS, TELLABLE, WAYS_ON
from assistant.trade.pace import SHAFT_LIMIT_RPM

__all__ = ["UNIT_NAMES", "step_definitions", "step_schema"]

UNIT_NAMES = tuple(name for unit in english().units for name in unit.names)
"""Every name of every unit."""

_NOWHERE = Place("", 1, 1)
_EMPTY_LIST: Schema = {"type": "array", "maxItems": 0}
_EMPTY_TABLE: Schema = {"type": "object", "maxProperties": 0}
_TARGET: Schema = {"$ref": "#/$defs/target"}
_FACTS: Schema = {"$ref": "#/$defs/facts"}
_VALUE: Schema = {"$ref": "#/$defs/value"}
_VALUE_OR_QUANTITY: Schema = {"anyOf": [_VALUE, {"$ref": "#/$defs/quantity"}]}
_SKIPPED_KINDS = (AskKind.DONE, AskKind.YES_NO)


def step_definitions() -> dict[str, Schema]:
    """The schema of a step, and those to which it refers by name."""
    return {
        "step": step_schema(),
        "target": named(),
        "facts": one_or_more(word(TELLABLE)),
        "value": REFERENCE_TEXT,
        "quantity": quantity(UNIT_NAMES),
    }


def step_schema() -> Schema:
    """The schema of a step."""
    fields = _fields()
    return {
        **table(fields, required=["step"]),
        "description": summary_of(Step),
        "allOf": [
            {"if": form.when, "then": form.then(_OF_A_FORM - set(ACTIONS) - form.has)}
            for form in _forms()
        ],
        "dependentRequired": {"tick": ["ask"], "work": ["ask"]},
        "dependentSchemas": {
            **{name: _without(set(ACTIONS) - {name}) for name in ACTIONS},
            "may-skip": _skipped(),
        },
    }


def _without(names: set[str]) -> Schema:
    return {"properties": dict.fromkeys(sorted(names), False)}


def _skipped() -> Schema:
    """What may be skipped keeps no answer, proves nothing and does nothing."""
    return {
        "required": ["ask"],
        "properties": {
            "ask": word(_SKIPPED_KINDS),
            "into": False,
            "when": False,
            "proves": _EMPTY_TABLE,
            "record": _EMPTY_TABLE,
            "does": _EMPTY_LIST,
        },
    }


def _fields() -> dict[str, Schema]:
    step, ask = arguments_of(Step), arguments_of(Ask)
    compute = arguments_of(Compute)
    warning, caution = (_notice(kind) for kind in (NoticeKind.WARNING, NoticeKind.CAUTION))
    book = english()
    taken = "|".join([*sorted(WAYS_ON), f"{RETURN_WITH}.*"])
    marked = word(["yes"])
    words = list_of(named(but="next"))
    sayable = number(least=0, most=LARGEST)
    return {
        "step": described(named(but=taken), step["name"]),
        "warning": warning,
        "caution": caution,
        "say": described(TEMPLATE, step["say"]),
        "does": described(one_or_more(_act()), step["acts"]),
        "ask": described(word(AskKind), summary_of(Ask)),
        "compute": described(_computations(), summary_of(Compute)),
        "branch": described(_VALUE, "Go on by a value that was chosen before."),
        "repeat": described(_TARGET, summary_of(Repeat)),
        "hold": described(TEMPLATE, summary_of(Hold)),
        "call": described(named(), "Do the steps of a part, named at the head under 'parts:'."),
        "end": described(word(["job"]), summary_of(End)),
        "of": described(_VALUE, ask["of"]),
        "unit": described(word(UNIT_NAMES), "Unit of the number, as the phrase book knows it."),
        "least": described(sayable, ask["least"]),
        "most": described({"anyOf": [sayable, _VALUE]}, ask["most"]),
        "called": described(words, ask["called"]),
        "instead": described(words, ask["instead"]),
        "choices": described(
            list_of(named(but="next"), minItems=2, uniqueItems=True), ask["choices"]
        ),
        "expect": described(_VALUE, ask["expect"]),
        "by": described(word(book.roles), ask["by"]),
        "read-back": described(word(["yes", "no"]), ask["read_back"]),
        "into": described(named(), ask["into"]),
        "when": described(named(), ask["when"]),
        "from": described(table_of(_VALUE_OR_QUANTITY), compute["inputs"]),
        "because": described(named(), compute["because"]),
        "at-most": described(
            {**number(least=1, most=MOST_REPEATS), "type": ["integer", "string"]},
            f"How often at most, 1 to {MOST_REPEATS}.",
        ),
        "otherwise": described(_TARGET, "Where to go on after that."),
        "with": described(table_of(_VALUE), "What the part is given, by its inputs."),
        "record": described(table_of(_VALUE, named()), step["records"]),
        "deviation": described(TEMPLATE, step["deviation"]),
        "tick": described(number(above=0, most=SHAFT_LIMIT_RPM), step["tick"]),
        "may-skip": described(marked, step["may_skip"]),
        "work": described(marked, step["takes_work"]),
        "gate": described(marked, step["is_gate"]),
        "proves": described(table_of(_FACTS), step["proves"]),
        "go": described({"anyOf": [_TARGET, table_of(_TARGET)]}, step["go"]),
    }


def _notice(kind: NoticeKind) -> Schema:
    return described(one_or_more(TEMPLATE), f"{summary_of(NoticeKind)} This is a {kind}.")


def _computations() -> Schema:
    return {"enum": list(COMPUTATIONS)}


def _act() -> Schema:
    alone = [kind.value for kind in ActKind if not ACTS[kind].arguments]
    told = {
        kind.value: described(
            table(dict.fromkeys(deed.arguments, _VALUE), required=deed.arguments),
            _rule(kind),
        )
        for kind, deed in ACTS.items()
    }
    with_arguments = {**table(told), "minProperties": 1, "maxProperties": 1}
    return {"anyOf": [{"enum": alone}, with_arguments]}


def _rule(kind: ActKind) -> str:
    needs = ", ".join(sorted(ACTS[kind].needs))
    return f"Forbidden unless {needs}." if needs else ""


@dataclass(frozen=True, slots=True)
class _Form:
    """What a step can be.

    Args:
        when: how it is told from the others.
        needs: the fields that it needs.
        may: the fields that it may have, of those that not every step can have.
        outcomes: after which it goes on; None where the loader alone knows.
        fields: what it says of its fields besides.
        besides: what else must hold.
    """

    when: Schema
    needs: tuple[str, ...] = ()
    may: tuple[str, ...] = ()
    outcomes: tuple[str, ...] | None = None
    fields: Schema = field(default_factory=dict)
    besides: Schema = field(default_factory=dict)

    @property
    def has(self) -> set[str]:
        """The fields of a form that it may have."""
        return {*self.needs, *self.may}

    def then(self, others: set[str]) -> Schema:
        """What holds for such a step, which has none of the fields of other forms."""
        properties = {**dict.fromkeys(sorted(others), False), **self.fields}
        required = list(self.needs)
        if self.outcomes is not None:
            needed = [outcome for outcome in self.outcomes if outcome != "next"]
            properties.setdefault("go", _go(self.outcomes, needed))
            properties.setdefault("proves", table(dict.fromkeys(self.outcomes, _FACTS)))
            required += ["go"] if needed else []
        return {"properties": properties, "required": required, **self.besides}


def _go(outcomes: tuple[str, ...], needed: list[str]) -> Schema:
    """Where to go on after these outcomes."""
    each = table(dict.fromkeys(outcomes, _TARGET), required=needed)
    return {"anyOf": [_TARGET, each]} if outcomes == ("next",) else each


_ASKS = ("into", "when", "read-back")
_NOTHING_RECORDED: Schema = {"record": _EMPTY_TABLE}

_OF_A_FORM = {
    *ACTIONS,
    *_ASKS,
    *(name for own in ASK_FIELDS.values() for name in (*own.needs, *own.may)),
    *("from", "because", "at-most", "otherwise", "with"),
}
"""The fields that not every step can have."""


def _forms() -> Iterator[_Form]:
    yield from _questions()
    yield from _computed()
    yield _Form({"required": ["branch"]})
    yield _Form(
        {"required": ["repeat"]},
        needs=("at-most", "otherwise"),
        fields={"go": _EMPTY_TABLE},
    )
    yield _Form(
        {"required": ["hold"]},
        outcomes=_outcomes(Hold(_a_template())),
        fields=_NOTHING_RECORDED,
    )
    yield _Form({"required": ["call"]}, may=("with",))
    yield _Form(
        {"required": ["end"]}, needs=("say",), outcomes=_outcomes(End()), fields=_NOTHING_RECORDED
    )
    yield _Form(
        {"not": {"anyOf": [{"required": [name]} for name in ACTIONS]}},
        outcomes=_outcomes(Tell()),
        besides={"anyOf": [{"required": ["say"]}, _some("warning"), _some("caution")]},
    )


def _some(notice: str) -> Schema:
    return {"required": [notice], "properties": {notice: {"not": _EMPTY_LIST}}}


def _questions() -> Iterator[_Form]:
    for kind, own in ASK_FIELDS.items():
        when: Schema = {"properties": {"ask": {"const": kind.value}}, "required": ["ask"]}
        asks = _ASKS if kind in WITH_CONTENT else tuple(n for n in _ASKS if n != "read-back")
        needs = ("say", *own.needs)
        if kind in (AskKind.NUMBER, AskKind.CHOICE):
            # Their outcomes are words of the writer's own.
            yield _Form(when, needs, (*own.may, *asks))
        elif "expect" in own.may:
            compared: Schema = {**when, "required": ["ask", "expect"]}
            alone: Schema = {**when, "not": {"required": ["expect"]}}
            expected = Ask(kind, expect=Reference(("unit", "tag"), _NOWHERE))
            yield _Form(compared, needs, (*own.may, *asks), _outcomes(expected))
            yield _Form(alone, needs, (*own.may, *asks), _outcomes(Ask(kind)))
        else:
            yield _Form(when, needs, (*own.may, *asks), _outcomes(Ask(kind)))


def _computed() -> Iterator[_Form]:
    for name, computation in COMPUTATIONS.items():
        given = {
            key: _VALUE_OR_QUANTITY if key in computation.may_be_written else _VALUE
            for key in computation.inputs
        }
        inputs = table(given, computation.inputs)
        yield _Form(
            {"properties": {"compute": {"const": name}}, "required": ["compute"]},
            needs=("from", "into") if computation.result else ("from",),
            may=("because",),
            outcomes=computation.outcomes,
            fields={"from": inputs},
        )


def _outcomes(action: Action) -> tuple[str, ...]:
    """After which a step of this kind goes on."""
    return outcomes_of(Step("a", _NOWHERE, (), None, (), action, (), {}))


def _a_template() -> Template:
    return Template((), _NOWHERE)
