"""Gloveside: a voice-and-checklist assistant for setting geared limit switches."""

__version__ = "0.1.0"
