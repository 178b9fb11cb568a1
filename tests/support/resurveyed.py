"""A boat whose lines were measured a little wrong, surveyed and floated as she truly is."""

from dataclasses import dataclass, replace

import numpy as np
from refits import SALTMARROW, boat, weight, with_all

from hullchange.afloat.at_rest import afloat
from hullchange.afloat.floats_in_conditions import mark_points
from hullchange.afloat.whole_circle import COARSE_CIRCLE
from hullchange.boat.conditions import conditions_of
from hullchange.boat.hull import hull_from
from hullchange.boat.variants import as_found, refit
from hullchange.document.reading import document_of
from hullchange.floating.levers import righting_levers
from hullchange.hull.lines import READING_SD, splined
from hullchange.hull.shape_error import ALONG, SPLINE_SHARE
from hullchange.survey.as_found import amidships, surveyed

FINE = 4
"""Points to which each interval between two readings is drawn out."""
HEELS = np.radians([-40.0, -10.0, 10.0, 25.0, 40.0, 60.0])


@dataclass(frozen=True, eq=False)
class DocumentInError:
    """A document with its lines in error, and the errors as standard deviations (m,)."""

    plain: dict
    errors: np.ndarray


def with_lines_wrong(plain, draw, by=1.0):
    """The document with every reading of its lines in error, and the splining between them.

    ``by`` is how far they are in error, of what they may be; with nought they are drawn alike.
    """
    hull = plain["hull"]
    method, errors, lines = by * draw.normal(), [], {}
    for line in hull["lines"].values():
        centred = not lines
        points = np.array(line["points_m"], float)
        unit = by * draw.normal(size=points.shape)
        unit[points[:, 1] == 0.0, 1] = 0.0
        sd = READING_SD * np.array([ALONG, 1.0, 1.0])
        drawn = _drawn_out(line, points + unit * sd, method * SPLINE_SHARE)
        lines[f"line-{len(lines)}"] = line | {"points_m": drawn.tolist()}
        errors.append(unit[:, ::2] if centred else unit)
    named = dict(zip(hull["lines"], lines.values(), strict=True))
    all_errors = np.concatenate([*(unit.ravel() for unit in errors), [method]])
    return DocumentInError(plain | {"hull": hull | {"lines": named}}, all_errors)


def _drawn_out(line, points, straighter):
    """Points that follow the spline through some, drawn a little towards the straight."""
    count = len(points)
    x = np.interp(np.arange((count - 1) * FINE + 1) / FINE, range(count), points[:, 0])
    curved = splined(points, tuple(line.get("knuckles_at_x_m", ())))(x)
    straight = np.stack([np.interp(x, points[:, 0], points[:, c]) for c in (1, 2)], axis=1)
    drawn = curved + straighter * (straight - curved)
    drawn[:, 0] = np.maximum(drawn[:, 0], 0.0)
    return np.column_stack([x, drawn])


def with_readings_wrong(plain, draw):
    """The document with freeboards and the height of her centre of gravity in error."""
    survey, changes = plain["survey"], {}
    sd = survey.get("plus_minus_m", READING_SD)
    for name, mark in survey["marks"].items():
        for side, read in mark["freeboard_m"].items():
            changes[f"survey.marks.{name}.freeboard_m.{side}"] = read + draw.normal(0.0, sd)
    if survey.get("vcg"):
        vcg = survey["vcg"]
        changes["survey.vcg.z_m"] = vcg["z_m"] + draw.normal(0.0, vcg["plus_minus_m"])
        return with_all(plain, changes)
    test = survey["inclining"]["readings"]
    widest = max(abs(reading["heel_deg"]) for reading in test)
    # as much of GM as the document's own 1 % of moments and 0.05 degrees of heel are worth
    share = 1.0 + draw.normal(0.0, np.hypot(0.01, 0.05 / widest / np.sqrt(len(test))))
    moved = [reading | {"moment_kgm": share * reading["moment_kgm"]} for reading in test]
    return with_all(plain, changes | {"survey.inclining.readings": moved})


def results(rest, x, length):
    """The eight figures of a float, in the order of ``ROWS``; GM held upright."""
    plane = rest.plane
    return np.array(
        [
            rest.mass,
            *rest.centre_of_gravity,
            plane.sinkage(x),
            plane.trim_between_perpendiculars(length),
            plane.heel,
            rest.upright.gm_transverse,
        ]
    )


def in_true_hull(plain, wrong):
    """The boat of a document in the hull that another gives her, and as found in it.

    Her parts stay as they were made for the hull that was measured.
    """
    document = document_of(wrong, SALTMARROW.parent)
    built = replace(boat(plain), document=document, hull=hull_from(document))
    return built, surveyed(built)


def floated(plain, wrong, *conditions):
    """(c, 2, 8 + f) results and freeboards, as found and as the refit, in her true hull."""
    built, as_surveyed = in_true_hull(plain, wrong)
    every = conditions_of(built.document)
    x, length = amidships(built), built.document.hull.length_waterline_m
    points = np.concatenate(list(mark_points(built).values()))
    rests = [
        [afloat(built, as_surveyed, v(built), every[name]).rest for v in (as_found, refit)]
        for name in conditions
    ]
    return np.array(
        [
            [[*results(r, x, length), *r.plane.height_above(points)] for r in pair]
            for pair in rests
        ]
    )


def levers(plain, wrong, condition):
    """(k,) levers [m] to port of the refit at ``HEELS``, in her true hull."""
    built, as_surveyed = in_true_hull(plain, wrong)
    there = conditions_of(built.document)[condition]
    rest = afloat(built, as_surveyed, refit(built), there).rest
    curve = righting_levers(
        rest.envelope, rest.loading, rest.water_density, COARSE_CIRCLE, rest.upright.plane
    )
    return np.sign(HEELS) * curve.gz_at(HEELS)


def skiff_document(seed):
    """A hull of one chine, its lines drawn at random, afloat down by the stern with a list."""
    draw = np.random.default_rng(seed)
    length, half = 7.0 + 3.0 * draw.random(), 1.1 + 0.4 * draw.random()
    depth, fullness = 0.35 + 0.2 * draw.random(), 0.5 + 0.3 * draw.random()
    share = np.linspace(0.0, 1.0, 9)
    outline = np.sin(np.pi * (0.04 + 0.72 * share)) ** fullness
    x = length * share
    sheer = np.stack([x, half * outline, 0.9 + 0.5 * (share - 0.7) ** 2], axis=1)
    chine = np.stack([x, 0.8 * half * outline, -0.05 + 0.5 * (share - 0.7) ** 2], axis=1)
    keel = np.stack([x, 0.0 * x, 0.1 - depth * np.sin(np.pi * share) ** 0.7], axis=1)
    keel[:, 2] = np.minimum(keel[:, 2], chine[:, 2] - 0.04)
    lines = {
        name: {"kind": kind, "points_m": points.round(4).tolist()}
        for name, kind, points in (
            ("keel", "fair", keel),
            ("chine", "chine", chine),
            ("sheer", "sheer", sheer),
        )
    }
    marks = {
        name: {"x_m": x_m, "sheer_z_m": z_m, "freeboard_m": {"port": f, "starboard": f - 0.03}}
        for name, x_m, z_m, f in (
            ("forward", 0.1 * length, 1.08, 1.00),
            ("aft", 0.9 * length, 0.92, 0.81),
        )
    }
    stores = weight(120.0, (0.3 * length, 0.2, 0.4))
    return {
        "format": 1,
        "boat": {"name": "Skiff"},
        "hull": {"kind": "offsets", "length_waterline_m": 0.9 * length, "lines": lines},
        "survey": {
            "marks": marks,
            "vcg": {"z_m": 0.25, "plus_minus_m": 0.02, "from": "weighed"},
        },
        "allowances": {"scale_percent": 0.0, "datum_mm": 0.0},
        "changes": {"stores": {"adds": {"stores": stores}}},
        "conditions": {
            "survey-state": {},
            "loaded": {"loads": {"crew": weight(160.0, (0.6 * length, -0.1, 0.7))}},
        },
    }
