"""The language floor: what may be said, what it means, and how values are said.

Pure: text and values in, text and values out. Only `english` reads a file, its own data.
"""
