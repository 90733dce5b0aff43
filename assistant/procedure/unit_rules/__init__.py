"""What is legal in a unit sheet and yet suspicious: one rule a file, as those for procedures.

The docstring of a rule is its manual, with a sample that passes and one that fails; each sample is
what a sheet states besides the least that it must. What cannot be right is no matter of these
rules: `assistant.trade.sheet_faults` refuses it. `registry` lists them, `judge` applies them.
"""
