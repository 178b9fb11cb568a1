"""A number of a validated document by its dotted path."""

from collections.abc import Mapping

from pydantic import BaseModel

from hullchange.document.document import Document
from hullchange.errors import ModelError

AXES = {"x": 0, "y": 1, "z": 2}


def number_at(document: Document, path: str) -> float:
    """The number at a path, in the unit of its key.

    Raises:
        ModelError: ``unknown-path`` where there is none.
    """
    value: object = document
    for step in path.split("."):
        value = _below(value, step)
    if isinstance(value, bool) or not isinstance(value, int | float):
        sentence = f"There is no number at {path}: name one, such as a part's side_height_m."
        raise ModelError("unknown-path", sentence, path)
    return float(value)


def _below(value: object, step: str) -> object:
    if isinstance(value, BaseModel):
        return getattr(value, step, None)
    if isinstance(value, Mapping):
        return value.get(step)
    if isinstance(value, tuple):
        index = AXES.get(step, int(step) if step.isdigit() else len(value))
        return value[index] if index < len(value) else None
    return None
