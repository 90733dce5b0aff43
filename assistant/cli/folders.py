"""Where the program keeps what it computed, and finds the models that were fetched."""

from __future__ import annotations

from pathlib import Path

import platformdirs

from assistant.cli.complaint import Complaint
from assistant.cli.presence import is_folder, is_there
from assistant.speech.models.catalogue import catalogue, models_folder

__all__ = ["cache_folder", "is_fetched", "model_folder", "require_model"]


_MAY_NOT_LOOK = "allow it, or set GLOVESIDE_MODELS to another folder"


def cache_folder() -> Path:
    """Where rendered prompts and the recogniser's computed tables are kept."""
    return platformdirs.user_cache_path("gloveside", appauthor=False)


def is_fetched(model: str) -> bool:
    """Whether a model of the catalogue has its folder.

    Raises:
        Complaint: one may not look there.
    """
    return is_folder(models_folder() / model, _MAY_NOT_LOOK)


def model_folder(whose: str, name: str) -> Path:
    """The folder of a model, which must be there.

    Args:
        whose: what needs it: "recogniser".
        name: of the model, as in the catalogue.

    Raises:
        Complaint: it was not fetched, or one may not look there.
    """
    folder = models_folder() / name
    if not is_fetched(name):
        raise Complaint(
            f"{folder}: the {whose}'s model is not there; "
            f"fetch it once with 'gloveside model fetch {name}'"
        )
    return folder


def require_model(whose: str, name: str) -> None:
    """Look whether every file of a model is there; what it holds is for `gloveside model check`.

    Args:
        whose: what needs it, as for `model_folder`.
        name: of the model, as in the catalogue.

    Raises:
        Complaint: the model was not fetched, or a file is missing.
    """
    folder = model_folder(whose, name)
    for file in catalogue()[name].files:
        if not is_there(folder / file.name, _MAY_NOT_LOOK):
            raise Complaint(
                f"{folder / file.name}: this file of the {whose}'s model is not there; "
                f"fetch it again with 'gloveside model fetch {name}'"
            )
