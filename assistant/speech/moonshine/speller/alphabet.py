"""The letters that can be spelled, apart from what computes with them and loads NumPy."""

from __future__ import annotations

__all__ = ["ALPHABET"]

ALPHABET = " 'abcdefghijklmnopqrstuvwxyz"
"""What can be spelled; the blank of the alignment comes before it."""
