"""Refits to try things on: a barge whose answers are plain arithmetic, and Saltmarrow."""

from functools import cache
from pathlib import Path

from hullchange.study.as_found import found
from hullchange.study.assess import assessment
from hullchange.study.boat import boat_of
from hullchange.study.conditions import conditions_of
from hullchange.study.paths import with_value
from hullchange.study.reading import document_of, read_document

SALTMARROW = Path(__file__).parents[2] / "examples/saltmarrow.yaml"
SEA = 1025.0


def barge_document(length, beam, draught, depth, vcg, **more):
    """A box from x = 0 to its length, floating level at the design waterline.

    ``vcg`` is above the design waterline; scale and datum are exact. ``more`` are further
    groups of the document; ``survey`` and ``allowances`` in it are merged.
    """
    bottom, top = -draught, depth - draught
    across = {
        "centreline": (0.0, bottom),
        "bilge": (beam / 2, bottom),
        "sheer": (beam / 2, top),
    }
    kinds = {"centreline": "fair", "bilge": "chine", "sheer": "sheer"}
    lines = {
        name: {"kind": kinds[name], "points_m": [[0.0, y, z], [length, y, z]]}
        for name, (y, z) in across.items()
    }
    marks = {
        name: {
            "x_m": share * length,
            "sheer_z_m": top,
            "freeboard_m": {"port": top, "starboard": top},
        }
        for name, share in (("forward", 0.1), ("aft", 0.9))
    }
    exact = {"scale_percent": 0.0, "datum_mm": 0.0}
    survey = {"marks": marks, "vcg": {"z_m": vcg, "plus_minus_m": 0.01, "from": "weighed"}}
    return {
        "format": 1,
        "boat": {"name": "Barge"},
        "hull": {"kind": "offsets", "length_waterline_m": length, "lines": lines},
        "survey": survey | more.pop("survey", {}),
        "allowances": exact | more.pop("allowances", {}),
        **more,
    }


def weight(mass, at, **more):
    """A weight of the document, known exactly unless said otherwise."""
    exact = {"plus_minus_kg": 0.0, "plus_minus_m": 0.0, "from": "weighed"}
    return {"mass_kg": mass, "at_m": list(at), **exact, **more}


def changed(plain, **by_path):
    """The document with values set; a path's dots are written as two underscores."""
    return with_all(plain, {path.replace("__", "."): v for path, v in by_path.items()})


def with_all(plain, by_path):
    """The document with values set by dotted path; None takes away."""
    for path, value in by_path.items():
        plain = with_value(plain, path, value)
    return plain


def towered_document():
    """Saltmarrow with 900 kg in a tower: she capsizes, her GM upright yet above nought."""
    tower = {"mass_kg": 900, "at_m": [5.0, 0, 14.0], "plus_minus_kg": 5, "from": "drawn"}
    return with_all(demo_document(), {"changes.arch.adds.arch-and-panels": tower})


@cache
def towered():
    """The answer for her."""
    return assessed(towered_document())


def boat(plain):
    """The boat of a plain document."""
    return boat_of(document_of(plain, SALTMARROW.parent))


def assessed(plain, **how):
    """The whole answer to a plain document."""
    return assessment(boat(plain), **how)


def row(answer, condition, stage="refit"):
    """One boat in one condition of an answer."""
    return next(c for c in answer.conditions if (c.id, c.stage) == (condition, stage))


@cache
def demo_document():
    """Saltmarrow's document, plain; shared, so never changed in place."""
    return read_document(SALTMARROW).plain


@cache
def demo():
    """Saltmarrow, built, with what was found and her loading conditions."""
    built = boat(demo_document())
    return built, found(built), conditions_of(built.document)


@cache
def demo_answer():
    """The whole answer to Saltmarrow, without the CAD record."""
    return assessment(demo()[0])
