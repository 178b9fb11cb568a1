"""The figures of a boat as she is: how many there are, and which of them are assumed."""

from collections.abc import Iterator

from pydantic import BaseModel, JsonValue

from hullchange.document.assumed import OF_A_FIGURE, has_number
from hullchange.document.document import Document
from hullchange.document.matching import PlainDocument
from hullchange.document.paths import written_at


def still_there(document: Document) -> tuple[str, ...]:
    """The assumed paths at which something stands."""
    if not document.assumed:
        return ()
    plain = _given(document)
    return tuple(path for path in document.assumed if _stands(plain, path))


def _stands(plain: PlainDocument, path: str) -> bool:
    return written_at(plain, path.split(".")) not in (None, {}, [])


def figures_of(document: Document) -> tuple[str, ...]:
    """Paths of every figure of the boat as she is, each a number somebody has to measure.

    These count: the waterline's length; of the hull's lines the half-breadth (unless it is
    nought, on the centreline) and the height of every point; all numbers of deck, appendages,
    existing parts, tanks and openings; of the survey the marks, and the height of the centre of
    gravity or the readings of an inclining. Deviations do not count, nor what the file leaves
    out, nor the refit and its conditions: they are plans, not measurements.
    """
    hull = _given(document.hull)
    lines = {
        f"{name}.points_m.{index}.{axis}": point[axis]
        for name, line in document.hull.lines.items()
        for index, point in enumerate(line.points_m)
        for axis in (1, 2)
    }
    survey = {"marks": _given(document.survey)["marks"]}
    if document.survey.vcg is not None:
        survey["vcg"] = {"z_m": document.survey.vcg.z_m}
    elif document.survey.inclining is not None:
        survey["inclining"] = {"readings": _given(document.survey.inclining)["readings"]}
    counted: PlainDocument = {
        "hull": {
            "length_waterline_m": document.hull.length_waterline_m,
            "lines": {key: value for key, value in lines.items() if value or key[-1] == "2"},
            **{key: hull[key] for key in ("deck", "appendages") if key in hull},
        },
        "survey": survey,
        **{
            name: {key: _given(one) for key, one in getattr(document, name).items()}
            for name in ("existing", "tanks", "openings")
        },
    }
    return tuple(_numbers("", counted))


def _given(section: BaseModel) -> PlainDocument:
    """What the file gives of a section, as plain values."""
    return section.model_dump(mode="json", by_alias=True, exclude_unset=True, exclude_none=True)


def _numbers(path: str, value: JsonValue) -> Iterator[str]:
    """Paths of the numbers of a value."""
    if isinstance(value, dict):
        for key, inner in value.items():
            if not key.startswith(OF_A_FIGURE):
                yield from _numbers(f"{path}.{key}" if path else key, inner)
    elif isinstance(value, list):
        for index, inner in enumerate(value):
            yield from _numbers(f"{path}.{index}", inner)
    elif has_number(value):
        yield path
