"""The questions for a unit sheet at the keyboard.

After each answer the answers are kept in a draft beside the sheet, so nothing that stops the
program loses one; the same command goes on from there.
"""

from __future__ import annotations

import json
from pathlib import Path

from assistant.cli.complaint import Complaint, Exit
from assistant.cli.editing import next_commands, schema_seen_from
from assistant.cli.files import put_text
from assistant.cli.presence import is_folder, is_there
from assistant.procedure.new_sheet import AnswerRefused, Interview, Question, sheet_text
from assistant.procedure.unit_rules.judge import judge_sheet

__all__ = ["make_sheet"]

_BACK = "back"
_REMEDY = "name another file"


def make_sheet(file: Path) -> Exit:
    """Ask for everything that a unit sheet states, and write it.

    Raises:
        Complaint: the sheet is there already, or cannot be written; or its draft cannot be used.
    """
    if is_there(file, _REMEDY):
        raise Complaint(f"{file} is there already: name a new file, or move that one away")
    if not is_folder(file.parent, _REMEDY):
        raise Complaint(f"{file.parent} is no folder: make it first, or name another file")
    draft = file.with_name(f"{file.name}.draft")
    interview = _continued(draft)
    print("Type 'back' to go back by one answer. Ctrl-C stops; the same command goes on.")
    try:
        while (question := interview.question) is not None:
            interview = _asked(interview, question)
            put_text(draft, _as_draft(interview), _REMEDY)
    except (KeyboardInterrupt, EOFError):
        print()
        if not interview.answers:
            raise Complaint("stopped before the first answer", Exit.HELD) from None
        raise Complaint(
            f"stopped; the answers are kept in {draft}, and the same command goes on from there",
            Exit.HELD,
        ) from None
    return _finished(interview, file, draft)


def _asked(interview: Interview, question: Question) -> Interview:
    """The interview after one line at the keyboard."""
    text = input(f"{question.words}{_hint(question)}: ")
    if text.strip().lower() == _BACK:
        if not interview.answers:
            print("  This is the first question.")
        return interview.back()
    try:
        return interview.answered(text)
    except AnswerRefused as refused:
        print(f"  {refused}")
        return interview


def _hint(question: Question) -> str:
    if question.usual is None:
        return ""
    source = f", {question.usual_from}" if question.usual_from else ""
    return f" [{question.usual}{source}]"


def _finished(interview: Interview, file: Path, draft: Path) -> Exit:
    text = sheet_text(dict(interview.values), schema_seen_from(file.parent, "unit.schema.json"))
    problems = sorted(judge_sheet(text, str(file)))
    put_text(file, text, _REMEDY)
    draft.unlink(missing_ok=True)
    print(f"\n{file} is written.")
    for problem in problems:
        print(problem)
    print(next_commands("unit", file))
    return Exit.DONE


def _as_draft(interview: Interview) -> str:
    answers = [[*key, text] for key, text in interview.answers]
    return json.dumps(answers, indent=1, ensure_ascii=False) + "\n"


def _continued(draft: Path) -> Interview:
    """The interview of a draft; a new one where there is none.

    Raises:
        Complaint: the draft is damaged.
    """
    interview = Interview()
    try:
        kept = json.loads(draft.read_bytes())
        answers = [(tuple(map(str, key)), str(text)) for *key, text in kept]
    except FileNotFoundError:
        return interview
    except (OSError, ValueError, TypeError) as error:
        raise Complaint(
            f"{draft}: this draft cannot be read ({error}); delete it to begin anew"
        ) from error
    for key, text in answers:
        question = interview.question
        try:
            if question is None or question.key != key:
                raise AnswerRefused("it answers another question")
            interview = interview.answered(text)
        except AnswerRefused as refused:
            print(f"From {' '.join(key)} on it is asked anew: {refused}.")
            break
    print(f"Going on after {len(interview.answers)} answers in {draft}.")
    return interview
