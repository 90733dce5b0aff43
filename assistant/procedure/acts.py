"""Read what a step has the technician do to the valve."""

from __future__ import annotations

from assistant.procedure.deeds import ACTS, ActKind
from assistant.procedure.fields import Fields, misspelt, quoted, read_each
from assistant.procedure.located import Located, ScalarNode, SequenceNode
from assistant.procedure.model import Act
from assistant.procedure.problems import refuse
from assistant.procedure.texts import read_reference

__all__ = ["items_of", "read_acts"]


def items_of(value: Located | None) -> tuple[Located, ...]:
    """The items of a list, or a single item in place of a list of one."""
    if value is None:
        return ()
    return value.items if isinstance(value, SequenceNode) else (value,)


def read_acts(value: Located | None) -> tuple[Act, ...]:
    """Read the acts of a step, none where it has none."""
    return read_each(items_of(value), _act)


def _act(value: Located) -> Act:
    if isinstance(value, ScalarNode):
        return _act_with(value, ())
    entries = Fields(value, "an act").entries()
    if len(entries) != 1:
        refuse(value.place, "one act an item: 'crank: {turns: …, toward: …}'", "act")
    name, inner = entries[0]
    return _act_with(name, Fields(inner, f"the act {quoted(name.text)}").entries())


def _act_with(name: ScalarNode, arguments: tuple[tuple[ScalarNode, Located], ...]) -> Act:
    known = [act.value for act in ActKind]
    if name.text not in known:
        meant = misspelt(name.text, known)
        hint = f"did you mean '{meant}'?" if meant else _for_the_valve_alone(known)
        refuse(name.place, f"no act is called {quoted(name.text)}; {hint}", "act")
    kind = ActKind(name.text)
    wanted = ACTS[kind].arguments
    if {key.text for key, _ in arguments} != set(wanted):
        needs = ", ".join(wanted) or "nothing"
        refuse(name.place, f"the act '{kind}' must be told {needs}", "act")
    told = ((key.text, read_reference(item, f"'{key.text}'")) for key, item in arguments)
    return Act(kind, tuple(told), name.place)


def _for_the_valve_alone(known: list[str]) -> str:
    return (
        f"acts are only what is done to the valve ({', '.join(known)}): remove 'does:' where "
        "something else is done"
    )
