"""What can go wrong in hearing and speaking that the user can mend.

Every message names the thing and the remedy in the user's words.
"""

from __future__ import annotations

__all__ = ["AudioError", "DeviceError", "ModelError", "SpeechError", "VoiceError"]


class SpeechError(Exception):
    """The family: catch this to report any of them."""


class AudioError(SpeechError):
    """A sound file cannot be used."""


class DeviceError(SpeechError):
    """A microphone or loudspeaker cannot be used."""


class ModelError(SpeechError):
    """A recogniser's model is missing, damaged or cannot be fetched."""


class VoiceError(SpeechError):
    """A text cannot be turned into speech."""
