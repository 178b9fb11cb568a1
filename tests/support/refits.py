"""Refits to try things on: a barge whose answers are plain arithmetic, and Saltmarrow."""

from functools import cache
from pathlib import Path

from hullchange.afloat.floats_in_conditions import answers_of
from hullchange.assess.assessment import assessment
from hullchange.assess.check import check_document
from hullchange.boat.boat import boat_of
from hullchange.boat.conditions import conditions_of
from hullchange.document.paths import with_value
from hullchange.document.reading import document_of, read_document
from hullchange.errors import DocumentError
from hullchange.survey.as_found import surveyed

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


def workboat_document():
    """A barge with a little of everything, unlike the demo: inclined, kept level by ballast."""
    house = {
        **{"kind": "deckhouse", "x_forward_m": 4.0, "x_aft_m": 7.0, "side_height_m": 0.7},
        **{"roof_half_breadth_forward_m": 1.2, "roof_half_breadth_aft_m": 1.3},
        **{"tumblehome_deg": 8.0, "front_rake_deg": 20.0, "roof_camber_m": 0.05},
        **{"roof_plate_mm": 4.0, "side_plate_mm": 4.0},
    }
    well = {
        **{"kind": "cockpit", "x_forward_m": 8.0, "deck_z_m": 1.5, "coaming_top_z_m": 1.75},
        **{"seat_well_m": [2.0, 1.8, 0.35], "foot_well_m": [1.5, 0.8, 0.4]},
        **{
            "foot_well_forward_m": 8.2,
            "plate_mm": 5.0,
            "drains": {"count": 2, "diameter_mm": 50.0},
        },
    }
    height = "changes.raise.parts.wheelhouse.side_height_m"
    inclining = {
        "readings": [
            {"moment_kgm": moment, "heel_deg": heel}
            for moment, heel in ((2000.0, 2.16), (-2000.0, -2.17), (1000.0, 1.08))
        ],
        "water": {"density_kg_m3": 1015.0},
    }
    more = {
        "water": {"density_kg_m3": 1012.0},
        "rig": {
            "mainsail": {"luff_m": 9.0, "foot_m": 3.0},
            "foretriangle": {"height_m": 9.5, "base_m": 3.5},
            **{"centre_of_effort_z_m": 5.0, "centre_of_lateral_plane_z_m": -0.7},
        },
        "existing": {"old-shed": house, "old-well": well},
        "changes": {
            "raise": {
                "replaces": "existing.old-shed",
                "removes": {
                    "shed": weight(300.0, (5.5, 0.0, 1.9)) | {"replaced_by": "wheelhouse"}
                },
                "parts": {"wheelhouse": house | {"side_height_m": 0.9, "roof_plate_mm": 3.0}},
                "moves": {
                    "mast": weight(200.0, (5.0, 0.0, 5.0))
                    | {"rises_with": {"path": height, "from_m": 0.7}}
                },
            },
            "well": {
                "replaces": "existing.old-well",
                "parts": {
                    "new-well": well | {"plate_mm": 4.0, "seat_well_m": [2.2, 1.8, 0.35]}
                },
                "removes": {"chest": {"aboard": "chest"}},
                "adds": {"engine": weight(350.0, (9.0, 0.1, 0.2))},
            },
        },
        "tanks": {
            "wing": {
                **{"outline_m": [[2.0, 0.5], [3.0, 0.5], [3.0, 1.5], [2.0, 1.5]]},
                **{"z_m": [-0.8, 0.2], "within": "hull", "capacity_l": 900.0},
                "contents": "fresh",
            },
            "oil": {
                "box_m": {"x": [10.0, 10.8], "y": [-0.5, 0.5], "z": [-0.8, -0.2]},
                **{"capacity_l": 470.0, "density_kg_m3": 850.0},
            },
            "slops": {"at_m": [6.0, 0.0, -0.8], "capacity_l": 100.0, "contents": "salt"},
        },
        "openings": {
            "hatch": {
                "edge_m": [[3.0, 0.4, 1.6]],
                **{"side": "both", "area_m2": 0.3, "closing": "weathertight"},
                "leads_to": "hull",
            },
            "pane": {
                "edge_m": [[5.0, 1.2, 2.1]],
                **{"side": "both", "area_m2": 0.1, "closing": "none"},
                "leads_to": "changes.raise.parts.wheelhouse",
                "rises_with": {"path": height, "from_m": 0.7},
            },
            "sill": {
                "edge_m": [[8.0, -0.3, 1.6], [8.0, 0.3, 1.6]],
                **{"area_m2": 0.4, "closing": "weathertight", "leads_to": "hull"},
            },
        },
        "conditions": {
            "survey-state": {},
            "working": {
                "fills": {"wing": 500.0, "oil": 300.0, "slops": 60.0},
                "without": ["chest"],
                "loads": {"crew": {"mass_kg": 240.0, "at_m": [9.0, 0.2, 1.5]}},
            },
            "swamped": {"like": "working", "floods": ["new-well"], "water": "fresh"},
            "swamped-shut": {"like": "swamped", "boards": "in"},
        },
        "targets": {
            "level": {"result": "trim_mm", "condition": "working", "between": [-90, 90]}
        },
        "options": {"low": {"set": {height: 0.8}, "adds": {}}},
    }
    plain = barge_document(12.0, 4.0, 1.0, 2.5, 0.2, **more)
    aboard = {
        "wing": {"tank": "wing", "fill_l": 200.0, "plus_minus_l": 10.0},
        "chest": weight(80.0, (7.0, 0.5, 1.0)),
    }
    survey = {**plain["survey"], "inclining": inclining, "aboard": aboard}
    del survey["vcg"]
    keel = {
        "outline_m": [[3.0, -0.9], [4.0, -1.6], [8.0, -1.6], [8.5, -0.9]],
        "half_thickness_m": [[0.0, 0.0], [0.3, 0.1], [1.0, 0.02]],
        "nose": "ellipse",
    }
    skeg = {"outline_m": [[9.5, -1.4], [10.5, -1.4]], "half_thickness_m": 0.05}
    hull = {
        **plain["hull"],
        "appendages": {"fin": keel, "skeg": skeg},
        "plating": {"bottom": {"thickness_mm": 6.0}},
        "deck": {"camber_m": 0.05, "at_half_breadth_m": 2.0},
    }
    return {**plain, "survey": survey, "hull": hull}


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


def with_plates(plain, count, x_from=2.0):
    """The document with a change of so many flat plates in rows, clear of one another."""
    plates = {}
    for number in range(count):
        row, place = divmod(number, 10)
        x, y, z = x_from + 0.3 * row, -0.5 + 0.1 * place, -0.2 + 0.001 * number
        across, along = y + 0.08, x + 0.25
        corners = [[x, y, z], [along, y, z], [along, across, z], [x, across, z]]
        plates[f"plate-{number + 1}"] = {
            "kind": "plating",
            "corners_m": corners,
            "thickness_mm": 4,
        }
    changes = {**plain.get("changes", {}), "plates": {"parts": plates}}
    return {**plain, "changes": changes}


def capsizing_document():
    """Saltmarrow with 900 kg in a tower: she capsizes, her GM upright yet above nought."""
    tower = {"mass_kg": 900, "at_m": [5.0, 0, 14.0], "plus_minus_kg": 5, "from": "drawn"}
    return with_all(demo_document(), {"changes.arch.adds.arch-and-panels": tower})


@cache
def capsizing_answer():
    """The answer for her."""
    return assessed(capsizing_document())


def boat(plain):
    """The boat of a plain document."""
    return boat_of(document_of(plain, SALTMARROW.parent))


def assessed(plain, **how):
    """The whole answer to a plain document."""
    return assessment(boat(plain), **how)


def row(answer, condition, stage="refit"):
    """One boat in one condition of an answer."""
    return next(c for c in answer.conditions if (c.id, c.stage) == (condition, stage))


def rows_of(built, surveyed, condition):
    """Each boat that a condition is run for, afloat."""
    return [one.row for one in answers_of(built, surveyed, condition)]


def problems_of(path):
    """Everything that is wrong with the document in a file."""
    try:
        check_document(path)
    except DocumentError as error:
        return error.faults
    return ()


@cache
def demo_document():
    """Saltmarrow's document, plain; shared, so never changed in place."""
    return read_document(SALTMARROW).plain


@cache
def demo():
    """Saltmarrow, built, with what was found and her loading conditions."""
    built = boat(demo_document())
    return built, surveyed(built), conditions_of(built.document)


@cache
def demo_answer():
    """The whole answer to Saltmarrow, without the CAD record."""
    return assessment(demo()[0])
