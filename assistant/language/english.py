"""The English phrase book, read from the file that comes with the package."""

from __future__ import annotations

import functools
from importlib import resources

import yaml

from assistant.language.phrase_book import PhraseBook

__all__ = ["english"]


@functools.cache
def english() -> PhraseBook:
    """The English phrase book; read once, then the same object each time."""
    text = resources.files("assistant.language").joinpath("english.yaml").read_text("utf-8")
    return PhraseBook.from_data(yaml.safe_load(text))
