"""The procedure floor: what a writer put into YAML becomes a program that cannot fail in a job.

The files flow through the floor in this order, which is also the order in which to read it:

1. `text_file` and `located`: a file becomes nodes that know their line and column; `problems`
   holds what is told when that, or anything after it, goes wrong. `fields` takes nodes apart.
2. `read_file`, `steps`, `asks`, `acts`, `texts`: nodes become the typed steps of `model`, one file
   at a time; `unit_sheet` and `sheet_numbers` do the same for the
   data of a valve.
3. `gather` and `join`: a procedure and the parts that it calls become one graph, `program`.
   `outcomes` tells after what a step must say where to go on.
4. `paths`, `names`, `branches` and `gates`: the whole graph is checked, with the `uses` of each
   step, what it can have computed (`computing`), and the kinds of `values`; `fit` checks it against
   a unit. `deeds` says what a step does to the valve, and what is forbidden; `papers` what is told
   of a job before it begins.

`load` does all of this for a procedure, `check_file` for whatever a file says that it is;
`unit_rules` tells what is suspicious in a unit sheet, and `schema` what an editor can check. The
session walks the graph and looks values up by the same `values` table as the checks.
"""

from __future__ import annotations

from assistant.procedure.check_file import check_file
from assistant.procedure.fit import check_fit
from assistant.procedure.load import load_program, program_from_texts, sources_of
from assistant.procedure.model import Procedure, Step
from assistant.procedure.problems import FileRefused, Place, Problem
from assistant.procedure.program import Node, Program, Scope
from assistant.procedure.unit_sheet import load_unit, read_unit
from assistant.procedure.values import Kind, Value

__all__ = [
    "FileRefused",
    "Kind",
    "Node",
    "Place",
    "Problem",
    "Procedure",
    "Program",
    "Scope",
    "Step",
    "Value",
    "check_file",
    "check_fit",
    "load_program",
    "load_unit",
    "program_from_texts",
    "read_unit",
    "sources_of",
]
