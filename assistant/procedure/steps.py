"""Read one step of a procedure file."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from types import MappingProxyType

from assistant.procedure.acts import items_of, read_acts
from assistant.procedure.asks import read_ask
from assistant.procedure.computing import COMPUTATIONS
from assistant.procedure.deeds import Fact
from assistant.procedure.fields import (
    DECIMAL,
    Fields,
    as_number,
    as_text,
    nearest,
    quoted,
    read_each,
)
from assistant.procedure.located import Located, ScalarNode
from assistant.procedure.model import (
    RETURN_WITH,
    Action,
    Ask,
    AskKind,
    Branch,
    Call,
    Compute,
    End,
    Hold,
    Notice,
    NoticeKind,
    Record,
    Repeat,
    Step,
    Target,
    Tell,
    Template,
)
from assistant.procedure.problems import refuse
from assistant.procedure.quantities import begins_as_number, read_quantity
from assistant.procedure.texts import read_name, read_reference, read_template
from assistant.procedure.values import Kind, Value
from assistant.trade.pace import SHAFT_LIMIT_RPM

__all__ = ["ACTIONS", "MOST_REPEATS", "TELLABLE", "WAYS_ON", "read_step"]

MOST_REPEATS = 20

TELLABLE = tuple(
    fact for fact in Fact if fact not in (Fact.ROD_OUT, Fact.ENERGISED, Fact.MID_TRAVEL)
)
"""Facts that a writer can have proved; the others follow from acts alone."""

WAYS_ON = frozenset({"next", "return"})
"""Targets that are no steps."""


def read_step(value: Located) -> Step:
    """Read one step; FileRefused where it is none."""
    fields = Fields(value, "a step")
    name = _step_name(fields)
    fields.what = f"step '{name}'"
    step = Step(
        name=name,
        place=fields.place,
        notices=_notices(fields),
        say=_maybe_template(fields, "say"),
        acts=read_acts(fields.take("does")),
        action=_action(fields),
        records=_records(fields),
        go=_go(fields),
        proves=_proves(fields),
        deviation=_maybe_template(fields, "deviation"),
        tick=_tick(fields),
        may_skip=_marked(fields, "may-skip"),
        takes_work=_marked(fields, "work"),
        is_gate=_marked(fields, "gate"),
    )
    fields.finish()
    _refuse_silent(step)
    _refuse_without_effect(step, fields)
    return step


def _maybe_template(fields: Fields, name: str) -> Template | None:
    value = fields.take(name)
    return None if value is None else read_template(value, f"'{name}'")


def _step_name(fields: Fields) -> str:
    value = fields.need("step")
    name = read_name(value, "the step's name")
    if name in WAYS_ON or name.startswith(RETURN_WITH):
        refuse(value.place, f"no step can be called '{name}', which is a way to go on", "name")
    return name


def _refuse_silent(step: Step) -> None:
    if isinstance(step.action, Ask | End) and step.say is None:
        refuse(step.place, f"step '{step.name}' needs 'say:': what is spoken", "missing-field")
    if isinstance(step.action, Tell) and not (step.say or step.notices):
        refuse(
            step.place,
            f"step '{step.name}' tells nothing: add 'say:', a 'warning:' or a 'caution:'",
            "missing-field",
        )


def _refuse_without_effect(step: Step, fields: Fields) -> None:
    """Refuse lines that would be passed over without a word."""
    if step.may_skip and not _can_be_skipped(step):
        message = (
            "only a question whose answer decides nothing may be skipped: it must keep no answer, "
            "prove nothing, do nothing to the valve and have one way on; remove 'may-skip:'"
        )
        refuse(fields.place_of("may-skip"), message, "skip")
    if step.takes_work and not isinstance(step.action, Ask):
        refuse(fields.place_of("work"), "work goes with a question: add 'ask:'", "work")
    if step.tick is not None and not isinstance(step.action, Ask):
        refuse(fields.place_of("tick"), "a pace goes with a question: add 'ask:'", "pace")
    if step.go and isinstance(step.action, Repeat | End):
        remedy = "a repeat goes on by 'otherwise:'"
        if isinstance(step.action, End):
            remedy = "the job ends here"
        refuse(fields.place_of("go"), f"{remedy}: remove 'go:'", "go")
    if step.records and isinstance(step.action, Hold | End):
        refuse(fields.place_of("record"), "nothing is recorded here: use a step before", "record")


def _can_be_skipped(step: Step) -> bool:
    match step.action:
        case Ask(into=None, when=None, by=None, kind=AskKind.DONE | AskKind.YES_NO):
            ways = {target.name for target in step.go.values()}
            return not (step.proves or step.acts or step.records) and len(ways) <= 1
    return False


def _notices(fields: Fields) -> tuple[Notice, ...]:
    # People before equipment, whatever the order of the lines in the file.
    return tuple(
        Notice(kind, read_template(item, f"'{kind}'"))
        for kind in (NoticeKind.WARNING, NoticeKind.CAUTION)
        for item in items_of(fields.take(kind.value))
    )


def _records(fields: Fields) -> tuple[Record, ...]:
    return tuple(
        Record(read_name(key, "a record's name"), read_reference(item, f"'{key.text}'"))
        for key, item in fields.table("record")
    )


def _go(fields: Fields) -> Mapping[str, Target]:
    value = fields.take("go")
    if value is None:
        return MappingProxyType({})
    if isinstance(value, ScalarNode):
        return MappingProxyType({"next": _target(value)})
    entries = Fields(value, "'go'").entries()
    return MappingProxyType({key.text: _target(item) for key, item in entries})


def _proves(fields: Fields) -> Mapping[str, tuple[Fact, ...]]:
    return MappingProxyType(
        {key.text: read_each(items_of(item), _fact) for key, item in fields.table("proves")}
    )


def _fact(value: Located) -> Fact:
    text = as_text(value, "'proves'")
    known = [fact.value for fact in TELLABLE]
    if text not in known:
        refuse(
            value.place, f"nothing known is called {quoted(text)}; {nearest(text, known)}", "act"
        )
    return Fact(text)


def _tick(fields: Fields) -> float | None:
    value = fields.take("tick")
    if value is None:
        return None
    tick = as_number(value, "'tick'")
    if not 0 < tick <= SHAFT_LIMIT_RPM:
        refuse(
            value.place,
            f"'tick' must be more than 0 and at most {SHAFT_LIMIT_RPM:g} a minute: a shaft is "
            "never turned faster",
            "pace",
        )
    return tick


def _marked(fields: Fields, name: str) -> bool:
    value = fields.take(name)
    if value is None:
        return False
    if as_text(value, f"'{name}'") != "yes":
        refuse(value.place, f"write '{name}: yes', or remove the line", "type")
    return True


def _target(value: Located) -> Target:
    return Target(read_name(value, "the step to go to"), value.place)


def _compute(value: Located, fields: Fields) -> Compute:
    name = as_text(value, "'compute'")
    if name not in COMPUTATIONS:
        hint = nearest(name, COMPUTATIONS)
        refuse(value.place, f"no computation is called {quoted(name)}; {hint}", "compute")
    given = fields.table("from")
    written = {
        key.text: read_quantity(item, quoted(key.text))
        for key, item in given
        if key.text in COMPUTATIONS[name].may_be_written and begins_as_number(item)
    }
    inputs = tuple(
        (key.text, read_reference(item, quoted(key.text)))
        for key, item in given
        if key.text not in written
    )
    wanted = COMPUTATIONS[name].inputs
    if {key.text for key, _ in given} != set(wanted):
        needs = ", ".join(wanted)
        refuse(fields.place_of("from"), f"'{name}' must be given 'from:' with {needs}", "compute")
    into, because = fields.take("into"), fields.take("because")
    if (into is None) != (COMPUTATIONS[name].result is None):
        right = "needs 'into:'" if into is None else "has no result: remove 'into:'"
        refuse(fields.place_of("into"), f"'{name}' {right}", "compute")
    return Compute(
        computation=name,
        inputs=inputs,
        into=None if into is None else read_name(into, "'into'"),
        because=None if because is None else read_name(because, "'because'"),
        place=value.place,
        written=MappingProxyType(
            {key: Value(Kind.NUMBER, number) for key, number in written.items()}
        ),
    )


def _branch(value: Located, _fields: Fields) -> Branch:
    return Branch(read_reference(value, "'branch'"))


def _repeat(value: Located, fields: Fields) -> Repeat:
    return Repeat(_target(value), _at_most(fields), _target(fields.need("otherwise")))


def _at_most(fields: Fields) -> int:
    text = fields.text("at-most")
    number = float(text) if DECIMAL.fullmatch(text) else math.nan
    if not (number.is_integer() and 1 <= number <= MOST_REPEATS):
        refuse(
            fields.need("at-most").place,
            f"'at-most' must be a whole number from 1 to {MOST_REPEATS}, not {quoted(text)}",
            "loop-limit",
        )
    return int(number)


def _hold(value: Located, _fields: Fields) -> Hold:
    return Hold(read_template(value, "'hold'"))


def _call(value: Located, fields: Fields) -> Call:
    arguments = tuple(
        (key.text, read_reference(item, quoted(key.text))) for key, item in fields.table("with")
    )
    return Call(read_name(value, "'call'"), arguments, value.place)


def _end(value: Located, _fields: Fields) -> End:
    if as_text(value, "'end'") != "job":
        refuse(value.place, "write 'end: job'", "type")
    return End()


ACTIONS: Mapping[str, Callable[[Located, Fields], Action]] = {
    "ask": read_ask,
    "compute": _compute,
    "branch": _branch,
    "repeat": _repeat,
    "hold": _hold,
    "call": _call,
    "end": _end,
}
"""What a step can be, by the field that makes it so; a step without any of them only tells."""


def _action(fields: Fields) -> Action:
    given = [name for name in ACTIONS if fields.take(name) is not None]
    if len(given) > 1:
        refuse(
            fields.place,
            f"{fields.what} has {' and '.join(given)}: one a step, make two steps of it",
            "one-action",
        )
    if not given:
        return Tell()
    return ACTIONS[given[0]](fields.need(given[0]), fields)
