"""Read a procedure file and every part that is named from it on."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path, PurePosixPath

from assistant.procedure.fields import quoted
from assistant.procedure.join import Parts
from assistant.procedure.model import Call, Procedure, Target
from assistant.procedure.problems import FileRefused, Place, Problem
from assistant.procedure.read_file import read_procedure
from assistant.procedure.text_file import read_text

__all__ = ["Gathered", "Texts", "gather", "texts_in"]

Texts = Callable[[str], str]
"""Gives the text of a file by its name relative to the main file's folder; FileRefused if none."""


@dataclass(frozen=True, slots=True)
class Gathered:
    """The files of a procedure.

    Args:
        main: the main file.
        files: all files by their names relative to the main file's folder, the main file first.
        texts: what stands in each, by the same names.
    """

    main: Procedure
    files: dict[str, Procedure]
    texts: dict[str, str]

    def parts(self) -> Parts:
        """The parts, by the file that names them and the name that it gives them."""
        return {
            (procedure.place.file, key): self.files[_relative(file, target)]
            for file, procedure in self.files.items()
            for key, target in procedure.parts.items()
        }


def texts_in(folder: Path) -> Texts:
    """The texts of the files in a folder."""
    return lambda name: read_text(folder / name)


def gather(main: str, text_of: Texts, folder: str) -> Gathered:
    """Read a file and its parts.

    Args:
        main: name of the main file.
        text_of: gives the text of a file.
        folder: what to put before file names in messages.

    Raises:
        FileRefused: with the problems of every file that could be found.
    """
    files: dict[str, Procedure] = {}
    texts: dict[str, str] = {}
    problems: list[Problem] = []
    named: dict[str, Place | None] = {main: None}
    waiting = [main]
    while waiting:
        name = waiting.pop(0)
        try:
            shown = str(PurePosixPath(folder) / name)
            texts[name] = _text(text_of, name, named[name])
            procedure = files[name] = read_procedure(texts[name], shown)
        except FileRefused as refused:
            problems.extend(refused.problems)
            continue
        problems.extend(_faults(name, procedure, named[name]))
        new = {part: at for part, at in _inside(name, procedure).items() if part not in named}
        named.update(new)
        waiting.extend(new)
    if problems:
        raise FileRefused(problems)
    return Gathered(files[main], files, texts)


def _text(text_of: Texts, name: str, named_at: Place | None) -> str:
    """The text of a file; one that cannot be opened is a problem of the line that names it."""
    try:
        return text_of(name)
    except FileRefused as refused:
        if named_at is None:
            raise
        raise FileRefused(
            Problem(named_at, f"{name}: {problem.message}", problem.rule)
            if problem.rule == "file"
            else problem
            for problem in refused.problems
        ) from refused


def _relative(file: str, target: Target) -> str:
    return str(PurePosixPath(file).parent / target.name)


def _is_inside(name: str) -> bool:
    return not PurePosixPath(name).is_absolute() and ".." not in PurePosixPath(name).parts


def _inside(file: str, procedure: Procedure) -> dict[str, Place]:
    """The part files that may be read, and where each is named."""
    named = {_relative(file, target): target.place for target in procedure.parts.values()}
    return {name: place for name, place in named.items() if _is_inside(name)}


def _faults(file: str, procedure: Procedure, named_at: Place | None) -> Iterator[Problem]:
    if named_at is not None and not procedure.is_part:
        message = f"{file} is no part: name a file that begins with 'part:'"
        yield Problem(named_at, message, "part")
    called = {step.action.part for step in procedure.steps if isinstance(step.action, Call)}
    misspelt = called - set(procedure.parts)  # told when the parts are joined
    for key, target in procedure.parts.items():
        if not _is_inside(_relative(file, target)):
            message = (
                f"{quoted(target.name)} may lie outside the procedure's folder: name a file in "
                "the folder of this one or below it, without '..'"
            )
            yield Problem(target.place, message, "part")
        if key not in called and not misspelt:
            message = f"no step calls the part '{key}': call it in a step, or remove the line"
            yield Problem(target.place, message, "part")
