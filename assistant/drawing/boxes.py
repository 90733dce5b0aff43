"""What stands in the box of a step."""

from __future__ import annotations

from assistant.drawing.chart import Box, Form
from assistant.procedure.model import (
    Act,
    Action,
    Ask,
    Branch,
    Call,
    Compute,
    End,
    Hold,
    Repeat,
    Step,
    Tell,
    Template,
)
from assistant.procedure.program import Node

__all__ = ["box_of", "text_of"]


def box_of(node: Node, number: int) -> Box:
    """The box of a step.

    Args:
        node: the step in its program.
        number: its number there.
    """
    step = node.step
    form, kind = _form(step.action)
    return Box(
        key=node.name,
        number=number,
        name=step.name,
        form=form,
        kind=kind,
        notices=tuple((notice.kind.capitalize(), text_of(notice.text)) for notice in step.notices),
        acts=tuple(_act(act) for act in step.acts),
        says=_says(step),
        deviation=text_of(step.deviation) if step.deviation else "",
        is_gate=step.is_gate,
    )


def text_of(template: Template) -> str:
    """A text as it stands in the file, with its names in braces."""
    pieces = (piece if isinstance(piece, str) else f"{{{piece}}}" for piece in template.pieces)
    return " ".join("".join(pieces).split())


def _says(step: Step) -> str:
    reason = [step.action.reason] if isinstance(step.action, Hold) else []
    return " ".join(text_of(text) for text in ([step.say] if step.say else []) + reason)


def _act(act: Act) -> str:
    told = ", ".join(f"{name} {value}" for name, value in act.arguments)
    return f"{act.kind}: {told}" if told else act.kind.value


def _form(action: Action) -> tuple[Form, str]:
    match action:
        case Tell():
            return Form.TELL, "tells"
        case Ask():
            return Form.ASK, _question(action)
        case Compute(computation=name):
            return Form.COMPUTE, f"works out {name}"
        case Branch(on=on):
            return Form.BRANCH, f"by {on}"
        case Repeat(at_most=most):
            return Form.REPEAT, f"repeats at most {most} {'time' if most == 1 else 'times'}"
        case Hold():
            return Form.HOLD, "hold"
        case Call(part=part, arguments=arguments):
            given = ", ".join(str(value) for _, value in arguments)
            return Form.CALL, f"part {part}{f' ({given})' if given else ''}"
        case End():
            return Form.END, "end of the job"


def _question(ask: Ask) -> str:
    about = ask.of or ask.expect or ask.unit or ask.by
    words = ", ".join((*ask.called, *ask.instead))
    return f"asks {ask.kind}{f' {about}' if about else ''}{f' ({words})' if words else ''}"
