"""A boat with every key of the grammar, and the leaves of the grammar that a form can edit."""

import re

from leaves import furnished_document
from refits import with_all

from hullchange.document.schema import document_schema

GRAMMAR = document_schema()

SCATTER = [0.1, 0.1, 0.2]


def every_key_document():
    """A boat with every key of the grammar at least once; of a part's in one place."""
    plain = furnished_document()
    plain["existing"]["old-house"] = _HOUSE
    plain["changes"]["shelter"]["parts"]["lookout"] = _LOOKOUT
    plain["changes"]["bulwark"] = {"parts": {"bulwark": _BULWARK}, "note": "of the old rail"}
    plain["hull"] |= _HULL
    plain["hull"]["appendages"]["bilge-keel"] = _BILGE_KEEL
    plain["survey"]["aboard"]["gear"] |= {
        "plus_minus_kg": 20.0,
        "plus_minus_m": 0.3,
        "note": "s",
    }
    plain["survey"]["aboard"]["water"] |= {"plus_minus_l": 5.0, "note": "by the glass"}
    plain["survey"]["aboard"]["anchor"] = _weight(20.0, plus_minus_m=SCATTER)
    plain["tanks"] |= _TANKS
    plain["stock"], plain["options"] = _STOCK, _OPTIONS
    return with_all(plain, _MORE)


def _weight(mass_kg, **more):
    return {"mass_kg": mass_kg, "at_m": [4.0, 0.0, 0.2], "from": "guessed", **more}


_HOUSE = {
    **{"kind": "deckhouse", "x_forward_m": 2.0, "x_aft_m": 5.0},
    **{"roof_half_breadth_forward_m": 0.7, "roof_half_breadth_aft_m": 0.9},
    **{"side_height_forward_m": 0.3, "side_height_aft_m": 0.4, "tumblehome_deg": 10.0},
    **{"front_rake_deg": 30.0, "roof_camber_m": 0.06, "roof_plate_mm": 3.0},
    **{"side_plate_mm": 3.0, "open_aft": True},
    "front_windows": {"count": 2, "size_m": [0.2, 0.08], "corner_radius_m": 0.02},
}
_LOOKOUT = {
    **{"kind": "deckhouse", "stand": "wheelhouse", "shared_end": "aft", "roof_below": "open"},
    **{"x_forward_m": 3.9, "x_aft_m": 4.8, "roof_half_breadth_forward_m": 0.4},
    **{"roof_half_breadth_aft_m": 0.4, "side_height_m": 0.5, "tumblehome_deg": 0.0},
    **{"front_rake_deg": 10.0, "roof_camber_m": 0.04, "roof_plate_mm": 3.0},
    "side_plate_mm": 3.0,
}
_BULWARK = {
    **{"kind": "bulwark", "x_forward_m": 0.4, "x_aft_m": 2.4, "height_forward_m": 0.25},
    **{"height_aft_m": 0.18, "flare_deg": 8.0, "plate_mm": 4.0, "cap_rail_mm": [60.0, 8.0]},
    "freeing_ports": {
        **{"count": 2, "size_m": [0.3, 0.06], "corner_radius_m": 0.02, "above_deck_m": 0.04},
    },
}
_HULL = {
    "from": {"source": "tape", "plus_minus_m": 0.01, "note": "in the shed"},
    "taped": {
        "girth": {
            "from": {"line": "centreline", "at_x_m": 0.267, "side": "starboard"},
            "to": {"line": "sheer", "at_x_m": 0.267, "side": "port"},
            **{"distance_m": 1.5, "plus_minus_m": 0.5, "note": "by two"},
        }
    },
    "read_again": {"again": {"line": "sheer", "at_x_m": 0.267, "note": "the next day"}},
    "compartments": {
        "forepeak": {"x_m": [0.0, 1.2], "permeability": 0.9, "note": "no drain"},
        "locker": {"x_m": [6.0, 7.0], "y_m": [-0.4, 0.4], "z_m": [0.0, 0.6]},
    },
}
_BILGE_KEEL = {
    "outline_m": [[3.2, -0.2], [3.5, -0.8], [4.8, -0.8], [5.1, -0.2]],
    "half_thickness_m": [[0.0, 0.0], [0.4, 0.03], [1.0, 0.01]],
    **{"top": "hull", "nose": "ellipse", "at_y_m": 0.5, "cant_deg": 12.0, "pair": True},
}
_TANKS = {
    "plan": {
        "outline_m": [[4.5, -0.2], [5.0, -0.2], [5.0, 0.2], [4.5, 0.2]],
        **{"z_m": [-0.2, 0.0], "capacity_l": 35.0, "density_kg_m3": 1100.0},
        **{"boat": "refit", "note": "new", "within": "hull"},
    },
    "keel-tank": {
        **{"within": "fin", "x_m": [3.1, 3.5], "z_m": [-1.5, -1.0], "plate_mm": 4.0},
        **{"capacity_l": 5.0, "contents": "fresh"},
    },
    "hull-tank": {
        **{"within": "hull", "x_m": [3.0, 3.5], "y_m": [-0.3, 0.3], "z_m": [-0.3, -0.1]},
        **{"capacity_l": 30.0, "contents": "salt"},
    },
}
_STOCK = {
    "plates": {
        "three": {
            **{
                "thickness_mm": 3.0,
                "sizes_m": [[3.0, 1.5]],
                "price": 1.8,
                "note": "in the yard",
            },
            "leftovers_m": [[[0.0, 0.0], [1.0, 0.0], [1.0, 0.5]]],
        }
    },
    "bars": {
        "flat": {"flat_mm": [40.0, 4.0], "length_m": 6.0, "price": 1.6, "note": "black"},
        "tube": {"tube_mm": [89.0, 6.0], "length_m": 6.0},
    },
}
_OPTIONS = {
    "light": {
        "set": {"changes.drive.adds.motor.mass_kg": 60.0},
        "adds": {"more": {"adds": {"stove": _weight(20.0)}}},
        "note": "a lighter motor",
    }
}
_FLOORS = {
    **{"within": "fin", "x_m": [3.1, 3.5], "z_m": [-1.5, -1.0], "plate_mm": 4.0},
    "fill": {"material": "lead", "density_kg_m3": 7000.0, "to_z_m": -1.2},
}
_DRIVE = "changes.drive"
_MORE = {
    "assumed": ["rig.air_draught_m"],
    "titles": {"drive": "Électrique"},
    "boat.propulsion": {"old": "diesel", "new": "electric"},
    "allowances.datum_mm": 5.0,
    "allowances.scale_percent": 0.5,
    "survey.inclining.water": {"density_kg_m3": 1010.0},
    "survey.inclining.note": "a calm",
    f"{_DRIVE}.note": "by the yard",
    f"{_DRIVE}.stage": "agreed",
    f"{_DRIVE}.adds.motor.energy_kwh": 0.0,
    f"{_DRIVE}.adds.motor.note": "with its bed",
    f"{_DRIVE}.adds.motor.plus_minus_kg": 4.0,
    f"{_DRIVE}.adds.motor.plus_minus_m": SCATTER,
    f"{_DRIVE}.removes.engine.note": "with its gearbox",
    f"{_DRIVE}.removes.engine.plus_minus_m": 0.1,
    f"{_DRIVE}.adds.cables": _weight(12.0, plus_minus_m=0.2),
    "changes.shifted.moves.chain.note": "all of it",
    "changes.shifted.moves.chain.plus_minus_m": SCATTER,
    "changes.shifted.moves.chain.may_lie_m": {
        "x": [1.0, 3.0],
        "y": [-0.3, 0.3],
        "z": [-0.5, 0.5],
    },
    "changes.shifted.moves.mast.plus_minus_m": 0.1,
    "changes.shelter.removes.shelter-steel.plus_minus_m": SCATTER,
    "changes.new-bow-platform.parts.bow-platform.roller_slot_mm": [60.0, 120.0],
    "conditions.home.boards": "in",
    "conditions.home.note": "alone",
    "conditions.cruising.loads.stores.note": "for a month",
    "conditions.cruising.loads.stores.plus_minus_m": SCATTER,
    "cutting.gap_mm": 10.0,
    "cutting.margin_mm": 15.0,
    "cutting.saw_mm": 3.0,
    "cutting.process": "stick",
    "openings.vent-1.note": "of the engine room",
    "openings.vent-1.regular": True,
    "openings.vent-1.rises_with": {
        "path": "changes.shelter.parts.wheelhouse.side_height_m",
        "from_m": 0.3,
    },
    "person": {
        **{"height_m": 1.8, "lining_mm": 20.0, "sole_z_m": -0.2},
        "sole_points_m": [[2.0, -0.2], [5.0, -0.15]],
        "helm": {"x_m": 6.0, "y_m": 0.2, "floor_z_m": 0.6, "seat_z_m": 1.0},
    },
    "reference_condition": "survey-state",
    "rig.air_draught_m": 15.0,
    "rig.stands_on": "changes.shelter.parts.tabernacle",
    "targets.range": {
        "result": "gm_m",
        "condition": "home",
        "between": [0.2, 3.0],
        "note": "s",
    },
    "targets.stiff": {"result": "gm_m", "condition": "home", "at_least": 0.2},
    "water": {"density_kg_m3": 1020.0},
    "trials.rolls.before.note": "in the harbour",
    "voids.fin": _FLOORS,
    "voids.bilge.note": "dry",
    "voids.bilge.taken_by_floors": 0.05,
    "voids.bilge.fill.note": "packed by hand",
    "voids.bilge.fill.from": "weighed",
    "photographs.quay": {
        **{"file": "quay.jpg", "width_px": 4000, "height_px": 3000},
        "marks": {"hatch": {"at_percent": [41.5, 60.25], "place_m": [1.0, 0.3, 1.4]}},
    },
    "voids.bilge.fill.mass_kg": 100.0,
    "weights.ballast-keel.note": "as the builder says",
    "weights.mast": _weight(100.0, plus_minus_m=0.2),
}

_PART = re.compile(r"^(existing\.\*|options\.\*\.adds\.\*\.parts\.\*|changes\.\*\.parts\.\*)\.")
_CHANGE = re.compile(r"^options\.\*\.adds\.\*\.")


def in_one_place(pattern):
    """A leaf's pattern where it is edited once: a part's and a change's occur in several."""
    return _CHANGE.sub("changes.*.", _PART.sub("changes.*.parts.*.", pattern))


def leaf_patterns():
    """Dotted patterns of every leaf of the grammar, `*` for a name or a number in a list."""
    return {in_one_place(".".join(steps)) for steps in _leaves(GRAMMAR, (), ())}


def _leaves(schema, path, within):
    while "$ref" in schema:
        name = schema["$ref"].rsplit("/", 1)[-1]
        if name in within:
            return
        schema, within = GRAMMAR["$defs"][name], (*within, name)
    below = [(path, kind) for kind in (*schema.get("anyOf", ()), *schema.get("oneOf", ()))]
    below += [((*path, key), one) for key, one in schema.get("properties", {}).items()]
    inside = [*schema.get("patternProperties", {}).values(), schema.get("additionalProperties")]
    inside += [schema.get("items"), *schema.get("prefixItems", ())]
    below += [((*path, "*"), one) for one in inside if isinstance(one, dict)]
    if not below and schema.get("type") != "null":
        yield path
    for where, one in below:
        yield from _leaves(one, where, within)


def pattern_of(steps, schema=GRAMMAR):
    """The pattern of a place in a document, given as its steps."""
    found = _pattern(tuple(steps), schema)
    return None if found is None else in_one_place(".".join(found))


def _pattern(steps, schema):
    while "$ref" in schema:
        schema = GRAMMAR["$defs"][schema["$ref"].rsplit("/", 1)[-1]]
    if not steps:
        return ()
    step, *rest = steps
    inside = [*schema.get("patternProperties", {}).values(), schema.get("additionalProperties")]
    inside += [schema.get("items"), *schema.get("prefixItems", ())]
    kinds = [*schema.get("anyOf", ()), *schema.get("oneOf", ())]
    own = schema.get("properties", {}).get(step)
    tries = [((step,), own, rest)] if isinstance(own, dict) else []
    tries += [(("*",), one, rest) for one in inside if isinstance(one, dict)]
    tries += [((), one, steps) for one in kinds]
    for head, one, left in tries:
        below = _pattern(tuple(left), one)
        if below is not None:
            return (*head, *below)
    return None
