"""How a unit sheet has its tag spoken, held against the tag.

Spelled wrongly, the job would begin with the name of another valve. A name of the site's own ("the
gate of pump two") can be held against nothing.
"""

from __future__ import annotations

from assistant.language.english import english
from assistant.language.speaking import spell
from assistant.language.spelling import letters_and_digits, spelling_of
from assistant.procedure.fields import as_text, quoted
from assistant.procedure.located import Located
from assistant.procedure.problems import refuse

__all__ = ["as_spoken_tag"]


def as_spoken_tag(value: Located, tag: str, what: str) -> str:
    """A text that may be spoken for a tag; FileRefused where it spells another one.

    Args:
        value: the text.
        tag: as it stands in the sheet.
        what: how messages call the text.
    """
    text = as_text(value, what)
    spelled = spelling_of(text, english())
    if spelled is not None and spelled != letters_and_digits(tag):
        refuse(
            value.place,
            f"{what} is {quoted(text)}, which spells {spelled}, and the valve is {quoted(tag)}: "
            f"write '{spell(tag)}', or put the tag right",
            "unit",
        )
    return text
