"""What can happen to a session. Each event carries the time at which it happened."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from assistant.language.meaning import from_json, to_json
from assistant.language.recognition import CONFIDENCE_LEVEL, Recognition
from assistant.session.rules import Rules

__all__ = [
    "Clip",
    "Event",
    "Heard",
    "Opened",
    "Returned",
    "Silent",
    "event_from_json",
    "event_to_json",
    "moment_of",
]


@dataclass(frozen=True, slots=True)
class Clip:
    """A kept recording: its file within the job folder, and the SHA-256 of the file."""

    file: str
    sha256: str


@dataclass(frozen=True, slots=True)
class Opened:
    """The job begins.

    Args:
        at: when.
        rules: by which it is decided; earlier ones where an older program began it.
    """

    at: str
    rules: Rules = Rules.THIRD


@dataclass(frozen=True, slots=True)
class Heard:
    """Something was said, whether it was understood or not."""

    at: str
    recognition: Recognition
    clip: Clip | None = None


@dataclass(frozen=True, slots=True)
class Silent:
    """Nothing was said for as long as the session waits (VoiceXML 2.0: noinput)."""

    at: str


@dataclass(frozen=True, slots=True)
class Returned:
    """The program was started again in the middle of the job."""

    at: str


Event = Opened | Heard | Silent | Returned


def moment_of(event: Event) -> datetime:
    """When it happened."""
    return datetime.fromisoformat(event.at)


def event_to_json(event: Event) -> dict[str, Any]:
    """The event as it stands in the journal; the time is kept beside it."""
    match event:
        case Opened():
            return {"kind": "opened"}
        case Silent():
            return {"kind": "silent"}
        case Returned():
            return {"kind": "returned"}
        case Heard(recognition=heard, clip=clip):
            return {
                "kind": "heard",
                "heard": {
                    "text": heard.text,
                    "confidence": heard.confidence,
                    "level": heard.level,
                    "seconds": heard.seconds,
                    "engine": heard.engine,
                },
                "meant": None if heard.meaning is None else to_json(heard.meaning),
                "other": None if heard.other is None else to_json(heard.other),
                "clip": clip_to_json(clip),
            }


def clip_to_json(clip: Clip | None) -> dict[str, str] | None:
    """A clip as it stands in an entry."""
    return None if clip is None else {"file": clip.file, "sha256": clip.sha256}


def event_from_json(at: str, data: Mapping[str, Any]) -> Event:
    """Rebuild an event from the journal; raises ValueError where it is none."""
    try:
        match data["kind"]:
            case "opened":
                return Opened(at)
            case "silent":
                return Silent(at)
            case "returned":
                return Returned(at)
            case "heard":
                return Heard(at, _recognition(data), _clip(data.get("clip")))
    except (KeyError, TypeError) as error:
        raise ValueError(f"no event: {error}") from error
    raise ValueError(f"no event is of the kind {data['kind']!r}")


def _recognition(data: Mapping[str, Any]) -> Recognition:
    # Format 1 wrote the other meaning as "rival", and it decided nothing: what it made unclear was
    # not understood. So it is left out here, and an older journal comes out as it was decided.
    meant, other, heard = data["meant"], data.get("other"), data["heard"]
    return Recognition(
        text=heard["text"],
        meaning=None if meant is None else from_json(meant),
        confidence=float(heard["confidence"]),
        seconds=float(heard["seconds"]),
        engine=heard["engine"],
        other=None if other is None else from_json(other),
        level=float(heard.get("level", CONFIDENCE_LEVEL)),  # an older entry was decided by this one
    )


def _clip(data: Mapping[str, Any] | None) -> Clip | None:
    return None if data is None else Clip(data["file"], data["sha256"])
