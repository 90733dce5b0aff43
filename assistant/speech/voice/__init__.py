"""The program's voice: texts said aloud, printed or kept.

`voices` are the ways to say a text. `rendering` turns texts into sound files and keeps them; the
engine runs in a process of its own (`worker`), which `process` starts, asks and ends.
"""
