"""Everything that can be said about a file before anybody hears it."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from assistant.procedure.check_file import Head, head_of, whole
from assistant.procedure.gather import gather, texts_in
from assistant.procedure.problems import FileRefused, Problem
from assistant.procedure.rules.judge import judge
from assistant.procedure.rules.subject import Means
from assistant.procedure.text_file import read_text
from assistant.procedure.unit_rules.judge import judge_sheet

__all__ = ["lint_file"]


def lint_file(path: Path, means: Means) -> Iterator[Problem]:
    """The problems of a procedure, a part or a unit sheet; none is raised.

    A file that cannot be loaded is not judged by the rules: only why it cannot is told.

    Args:
        path: the file.
        means: what the rules may use beside it.
    """
    try:
        if head_of(path) is Head.UNIT:
            problems = list(judge_sheet(read_text(path), str(path)))
        else:
            gathered = gather(path.name, texts_in(path.parent), str(path.parent))
            problems = list(judge(gathered, whole(gathered), means))
    except FileRefused as refused:
        problems = list(refused.problems)
    yield from sorted(problems)
