"""A unit sheet that is made by questions and answers.

`questions` holds what is asked in which order, given the answers so far; `partial` builds a sheet
of what is known, so that each answer is checked at once by the checks of whole sheets; `interview`
is the exchange, a value that grows by answers and shrinks by going back; `writing` puts the answers
down as a sheet with its comments. No keyboard and no file here.
"""

from __future__ import annotations

from assistant.procedure.new_sheet.interview import AnswerRefused, Interview
from assistant.procedure.new_sheet.questions import Question
from assistant.procedure.new_sheet.writing import sheet_text

__all__ = ["AnswerRefused", "Interview", "Question", "sheet_text"]
