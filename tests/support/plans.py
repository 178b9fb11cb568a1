"""Boats whose lines are drawn: the demo, and hulls of all kinds from seeds."""

from dataclasses import replace
from functools import cache
from pathlib import Path

import numpy as np
import other_hulls
from hulls import random_hull
from refits import demo

from hullchange.boat.boat import boat_of
from hullchange.document.reading import document_of
from hullchange.lines_plan.lengths import METRIC
from hullchange.lines_plan.plan import lines_plan
from hullchange.present.export import Origin

KINDS = (*other_hulls.FORMS, "canoe-stern", "stepped-sheer", "raked-ends")
NAMES = {"round": "Hérisson", "long-keel": "Чайка", "barge": "A long name indeed " * 5}


def origin_of(boat):
    """As a working copy's files state it."""
    return Origin(
        *(boat.document.boat.name, "0123abcd" * 8, "", "working", "", ""),
        *("unsigned", "hullchange 1"),
    )


def boat_with(hull, name="Boat", **marks):
    """A boat of a hull as a document has it."""
    mark = {"x_m": 1.0, "sheer_z_m": 1.0, "freeboard_m": {"port": 1.0, "starboard": 1.0}}
    plain = {
        "format": 1,
        "boat": {"name": name},
        "hull": hull,
        "survey": {
            "marks": marks or {"forward": mark, "aft": mark | {"x_m": 5.0}},
            "vcg": {"z_m": 0.0, "plus_minus_m": 0.05, "from": "guessed"},
        },
    }
    return boat_of(document_of(plain, Path(__file__).parent))


def hull_of_kind(kind, length, seed):
    """A hull of a kind and length, as a document has it."""
    if kind == "raked-ends":
        return raked(seed)
    rng = np.random.default_rng([815, seed])
    form = other_hulls.form_of(rng)
    size = length / form.length
    scaled = ("length", "beam", "draught", "freeboard", "transom_z", "sheer_rise")
    form = replace(form, **{name: size * getattr(form, name) for name in scaled})
    drawn = {"canoe-stern": "round", "stepped-sheer": "double-chine"}.get(kind, kind)
    form = replace(form, kind=drawn, bow_half=0.6 if kind == "barge" else 0.02)
    if kind == "canoe-stern":
        form = replace(form, transom_share=0.0, transom_z=0.06 * length)
    lines, waterline = other_hulls.lines_of(form, rng)
    if kind == "stepped-sheer":
        lines["sheer"] = stepped(lines["sheer"])
    start = lines["sheer"]["points_m"][0][0]
    return {
        "kind": "offsets",
        "length_waterline_m": waterline,
        "lines": lines,
        "deck": {"camber_m": 0.05, "at_half_breadth_m": 1.5},
        "plating": {"bottom": {"thickness_mm": 5.0}},
        "appendages": other_hulls.appendages_of(form, rng, start),
    }


def raked(seed):
    """A hull whose lines end at different x, on a raked stem and a raked transom."""
    hull = random_hull(seed)
    lines = hull.lines.lines
    keel = lines[0].points
    wet = np.linspace(keel[0, 0], keel[-1, 0], 20_001)
    wet = wet[lines[0].at(wet)[:, 1] < 0.0]
    fore = np.array([wet[0], 0.0, 0.0])
    return {
        "kind": "offsets",
        "length_waterline_m": round(float(np.ptp(wet)), 3),
        "lines": {
            line.name: {
                "kind": line.kind,
                "points_m": (line.points - fore).round(3).tolist(),
            }
            for line in lines
        },
        "deck": {"camber_m": 0.08, "at_half_breadth_m": 1.5},
    }


def stepped(sheer):
    """A sheer that steps down abaft a raised fore deck, within 0.2 m."""
    points = sheer["points_m"]
    middle = len(points) // 2
    x, y, z = points[middle]
    top = [[a, b, round(c + 0.3, 3)] for a, b, c in points[:middle]]
    step = [[round(x - 0.2, 3), y, round(z + 0.3, 3)], [x, y, z]]
    raised = [p for p in top if p[0] < x - 0.3]
    knuckles = [step[0][0], step[1][0]]
    return sheer | {
        "points_m": [*raised, *step, *points[middle + 1 :]], "knuckles_at_x_m": knuckles
    }  # fmt: skip


@cache
def boat_of_kind(kind, length=10.0, seed=1):
    """A boat of a kind; ``demo`` is Saltmarrow."""
    if kind == "demo":
        return demo()[0]
    return boat_with(hull_of_kind(kind, length, seed), NAMES.get(kind, f"Boat {kind}"))


@cache
def plan_of_kind(kind, length=10.0, lengths=METRIC):
    """Her lines plan."""
    return lines_plan(boat_of_kind(kind, length), lengths=lengths)
