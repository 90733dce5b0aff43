"""The rules of writing: what would confuse, mislead or hurt the person who hears a procedure.

One rule a module; its docstring is its manual. `judge` applies them to files; `settings` is what a
file sets for them and `allowances` what it allows. `valve` tells what is known of the valve on
every way, once for all the rules of safety that go by it. That names have values, loops limits and
every step a way to the end is no matter of rules: a procedure without that is not loaded at all
(see `load`).

To add one: a module with its manual and a `RULE`, and its line in `registry`.
"""
