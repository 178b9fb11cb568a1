"""Refits of boats unlike the demo: hull, parts, loads and openings drawn from one seed."""

from collections import Counter
from dataclasses import dataclass
from pathlib import Path

import numpy as np
from other_hulls import hull_of
from other_parts import Deck, random_dimensions, rounded_to_cm

from hullchange.boat.boat import boat_of
from hullchange.boat.hull_hydrostatics import hull_result
from hullchange.document.reading import document_of
from hullchange.geometry.surface import intersection, prism
from hullchange.parts.part import Site
from hullchange.parts.registry import KINDS
from hullchange.parts.weigh import weigh

NOWHERE = Path(__file__).parent
WORDS = ("weighed", "drawn", "catalogue", "guessed")


@dataclass(frozen=True, eq=False)
class OtherRefit:
    """A document, and what its making was refused."""

    seed: int
    form: str
    plain: dict
    refusals: Counter


class _Draw:
    """One refit on its way."""

    def __init__(self, seed):
        self.rng = np.random.default_rng([2026, seed])
        self.u = self.rng.uniform
        self.form, self.hull = hull_of(self.rng)
        self.refusals = Counter()
        bare = boat_of(document_of(self._bare(seed), NOWHERE))
        self.deck, self.hull_result = Deck(bare.hull, self.rng), hull_result(bare)
        self.mass = self.hull_result.displacement_at_dwl_kg
        self.plain = self._bare(seed)

    def _bare(self, seed):
        mark = {"x_m": 1.0, "sheer_z_m": 1.0, "freeboard_m": {"port": 1.0, "starboard": 1.0}}
        return {
            "format": 1,
            "boat": {"name": f"Boat {seed}"},
            "hull": self.hull,
            "survey": {
                "marks": {"forward": mark, "aft": mark | {"x_m": 5.0}},
                "vcg": {"z_m": 0.0, "plus_minus_m": 0.05, "from": "guessed"},
            },
        }

    def pick(self, *options):
        return options[int(self.rng.integers(len(options)))]

    def place(self, fore=0.1, aft=0.9, across=0.3):
        """Somewhere inside the hull."""
        x = self.deck.x(self.u(fore, aft))
        bottom, top = self.deck.bottom_z(x), self.deck.deck_z(x)
        y = (
            rounded_to_cm(self.u(-across, across) * self.deck.half(x))
            if self.u() < 0.5
            else 0.0
        )
        return [x, y, rounded_to_cm(bottom + self.u(0.1, 0.9) * (top - bottom))]

    def weight(self, low, high, **where):
        """A weight as a share of her mass."""
        mass = float(f"{self.u(low, high) * self.mass:.3g}")
        given = {"mass_kg": mass, "at_m": self.place(**where), "from": self.pick(*WORDS)}
        return given | ({"plus_minus_kg": rounded_to_cm(0.1 * mass)} if self.u() < 0.4 else {})


def other_refit(seed):
    """The refit of a seed."""
    draw = _Draw(seed)
    plain = draw.plain
    plain["boat"] |= {"design_category": draw.pick("A", "B", "C", "D")}
    plain["boat"]["persons"] = int(draw.rng.integers(1, 9))
    plain["water"] = draw.pick("salt", "salt", "fresh", {"density_kg_m3": 1012})
    plain["rig"] = _rig(draw)
    plain["tanks"] = _tanks(draw)
    plain["survey"] = _survey(draw)
    plain["existing"], plain["changes"] = _parts(draw)
    _weights(draw)
    plain["openings"] = _openings(draw)
    plain["conditions"], plain["targets"] = _conditions(draw)
    plain["options"] = _options(draw)
    _workshop(draw)
    return OtherRefit(seed, draw.form.kind, plain, draw.refusals)


def _rig(draw):
    if draw.u() < 0.25:
        return {}
    height = draw.deck.length * draw.u(1.0, 1.35)
    return {
        "mainsail": {
            "luff_m": rounded_to_cm(0.88 * height),
            "foot_m": rounded_to_cm(0.35 * draw.deck.length),
        },
        "foretriangle": {
            "height_m": rounded_to_cm(height),
            "base_m": rounded_to_cm(0.36 * draw.deck.length),
        },
        "centre_of_effort_z_m": rounded_to_cm(0.43 * height),
        "centre_of_lateral_plane_z_m": rounded_to_cm(-0.45 * draw.hull_result.draught_m),
        "chainplate_half_breadth_m": rounded_to_cm(0.8 * draw.deck.beam / 2.0),
    }


def _tanks(draw):
    deck, u, tanks = draw.deck, draw.u, {}
    x = deck.x(u(0.4, 0.55))
    bottom, half = deck.bottom_z(x, 0.2 * deck.beam), rounded_to_cm(0.16 * deck.beam)
    z, tall, long = (
        rounded_to_cm(bottom + 0.06),
        rounded_to_cm(u(0.2, 0.35)),
        rounded_to_cm(u(0.5, 1.0)),
    )
    box = {
        "x": [x, rounded_to_cm(x + long)],
        "y": [-half, half],
        "z": [z, rounded_to_cm(z + tall)],
    }
    litres = 2000.0 * half * tall * long
    tanks["water"] = {
        "box_m": box,
        "capacity_l": round(0.97 * litres, -1),
        "contents": "fresh",
    }
    if u() < 0.7:
        place = draw.place(0.6, 0.8)
        tanks["fuel"] = {"at_m": place, "capacity_l": 200.0, "contents": "diesel"}
    if u() < 0.5:
        x, long = deck.x(u(0.56, 0.62)), rounded_to_cm(u(0.4, 0.8))
        half, z = rounded_to_cm(0.9 * deck.half(x)), rounded_to_cm(deck.bottom_z(x))
        plan = [
            [x, -half],
            [rounded_to_cm(x + long), -half],
            [rounded_to_cm(x + long), half],
            [x, half],
        ]
        top = rounded_to_cm(z + u(0.25, 0.4))
        inside = intersection(prism(np.array(plan), z, top), deck.host.surface)
        tanks["bilge"] = {
            "outline_m": plan,
            "z_m": [z, top],
            "within": "hull",
            "capacity_l": float(np.floor(990.0 * inside.volume)),
            "contents": draw.pick("fresh", "salt"),
        }
    return tanks


def _survey(draw):
    """Freeboards as she would have read, a little trimmed and listed."""
    deck, u = draw.deck, draw.u
    sink, slope, tilt = u(-0.03, 0.05), u(-0.004, 0.004), np.radians(u(-0.8, 0.8))
    middle, marks = deck.fore + deck.length / 2.0, {}
    names = draw.pick(("bow", "stern"), ("bow", "middle", "stern"), ("a", "b", "c", "d"))
    for name, share in zip(names, np.linspace(0.08, 0.93, len(names)), strict=True):
        x = deck.x(share)
        edge = float(np.interp(x, deck.stations, deck.edges))
        above = edge - sink - slope * (x - middle)
        sides = {
            side: round(above - sign * np.tan(tilt) * deck.half(x) + u(-0.004, 0.004), 3)
            for side, sign in (("port", -1.0), ("starboard", 1.0))
        }
        marks[name] = {"x_m": x, "sheer_z_m": round(edge, 3), "freeboard_m": sides}
    stiff = draw.pick((0.16, 0.3), (0.16, 0.3), (0.16, 0.3), (0.03, 0.1), (-0.06, 0.03))
    height = draw.hull_result.km_m - u(*stiff) * deck.beam
    survey = {"water": draw.pick("salt", "fresh"), "plus_minus_m": 0.005, "marks": marks}
    if u() < 0.7 or stiff[0] < 0.0:
        survey["vcg"] = {
            "z_m": rounded_to_cm(height),
            "plus_minus_m": 0.04,
            "from": draw.pick(*WORDS),
        }
    else:
        moment = draw.mass * (draw.hull_result.km_m - height) / 57.3
        shifts = (-1.4, -0.7, 0.0, 0.7, 1.4)
        survey["inclining"] = {
            "readings": [
                {"moment_kgm": round(moment * angle, 1), "heel_deg": round(angle + e, 2)}
                for angle, e in zip(shifts, u(-0.02, 0.02, 5), strict=True)
            ]
        }
    survey["aboard"] = {"gear": draw.weight(0.01, 0.03)}
    if u() < 0.7:
        full = draw.plain["tanks"]["water"]["capacity_l"]
        survey["aboard"]["water"] = {"tank": "water", "fill_l": round(u(0.0, 1.0) * full, 0)}
    return survey


def _parts(draw):
    """Parts as found and new ones, each tried on this hull."""
    existing, changes = {}, {}
    _replaced(draw, existing, changes, ("shelter", "deckhouse", "cabin", "wheelhouse"))
    _replaced(draw, existing, changes, ("aft-deck", "cockpit", "old-well", "well"))
    if "shelter" in changes:
        parts = changes["shelter"]["parts"]
        given = parts["wheelhouse"]
        dimensions = KINDS["deckhouse"].parameters(**given)
        house = KINDS["deckhouse"].build(dimensions, Site(draw.deck.host, None))
        stand = ("wheelhouse", given, house)
        support = random_dimensions(draw.deck, "mast_support", draw.refusals, stand)
        if support and draw.u() < 0.7:
            parts["tabernacle"] = support
    for kind in ("transom_extension", "bow_platform", "hull_plate", "plating"):
        given = random_dimensions(draw.deck, kind, draw.refusals)
        if given and draw.u() < 0.65:
            name = kind.replace("_", "-")
            changes[f"new-{name}"] = {"parts": {name: given}}
    return existing, changes


def _replaced(draw, existing, changes, names):
    """An old part, perhaps, and a new one in its place or where there was none."""
    change, kind, old, new = names
    given = random_dimensions(draw.deck, kind, draw.refusals)
    if given and draw.u() < 0.65:
        existing[old] = given
    given = random_dimensions(draw.deck, kind, draw.refusals)
    if given and draw.u() < 0.75:
        changes[change] = {"parts": {new: given}}
        if old in existing:
            changes[change]["replaces"] = f"existing.{old}"


def _weights(draw):
    """Weights that come off, go on and move, in the changes there are and in their own."""
    changes, plain = draw.plain["changes"], draw.plain
    for name, change in changes.items():
        part = next(iter(change["parts"]))
        if draw.u() < 0.6:
            change["removes"] = {f"{name}-steel": _steel_off(draw, change, part)}
    engine = {"removes": {"engine": draw.weight(0.01, 0.03, fore=0.55, aft=0.7)}}
    engine["adds"] = {"motor": draw.weight(0.005, 0.02, fore=0.55, aft=0.7)}
    if draw.u() < 0.5:
        reach = {"x": [draw.deck.x(0.3), draw.deck.x(0.7)]}
        bank = draw.weight(0.01, 0.03, fore=0.35, aft=0.65)
        engine["adds"]["bank"] = bank | {"may_lie_m": reach, "energy_kwh": 12.0}
    changes["drive"] = engine
    moves = {"chain": draw.weight(0.005, 0.02, fore=0.05, aft=0.2)}
    moves["chain"]["to_m"] = draw.place(0.15, 0.35)
    if "shelter" in changes:
        mast = draw.weight(0.01, 0.03)
        mast["at_m"][2] = rounded_to_cm(mast["at_m"][2] + 0.4 * draw.deck.length)
        tied = {"path": "changes.shelter.parts.wheelhouse.side_height_m"}
        tied["from_m"] = rounded_to_cm(
            changes["shelter"]["parts"]["wheelhouse"]["side_height_m"] - 0.1
        )
        moves["mast"] = mast | {"rises_with": tied}
    changes["shifted"] = {"moves": moves}
    if draw.u() < 0.4:
        changes["shifted"]["removes"] = {"gear": {"aboard": "gear"}}
    plain["weights"] = {"ballast-keel": draw.weight(0.2, 0.4)} if draw.u() < 0.6 else {}
    plain["allowances"] = {"weld_metal_percent": 2.0, "paint_kg_m2": draw.pick(0.0, 0.4)}


def _steel_off(draw, change, part):
    """What comes off for a part: about what the old one weighs, where there is one."""
    if "replaces" not in change:
        return draw.weight(0.005, 0.03) | ({"replaced_by": part} if draw.u() < 0.6 else {})
    old = draw.plain["existing"][change["replaces"].removeprefix("existing.")]
    kind = KINDS[old["kind"]]
    built = weigh(kind.build(kind.parameters(**old), Site(draw.deck.host, None)), 7850.0)
    centre = [rounded_to_cm(c + draw.u(-0.1, 0.1)) for c in built.centroid]
    mass = round(built.mass * draw.u(0.8, 1.3), 1)
    return {"mass_kg": mass, "at_m": centre, "from": "drawn", "replaced_by": part}


def _openings(draw):
    deck, u, openings = draw.deck, draw.u, {}
    for n in range(int(draw.rng.integers(0, 4))):
        x = deck.x(u(0.2, 0.85))
        y = rounded_to_cm(u(0.0, 0.8) * deck.half(x))
        top = rounded_to_cm(deck.deck_z(x, y) + u(0.05, 0.4))
        openings[f"vent-{n + 1}"] = {
            "edge_m": [[x, y, top]],
            "side": "both" if y > 0.05 and u() < 0.6 else "one",
            "area_m2": draw.pick(0.002, 0.008, 0.02),
            "closing": draw.pick("none", "weathertight", "watertight"),
            "leads_to": "hull",
        }
    if u() < 0.8:
        x = deck.x(0.7)
        z = rounded_to_cm(deck.deck_z(x) + u(0.0, 0.25))
        openings["hatch"] = {
            "edge_m": [[x, -0.3, z], [x, 0.3, z]],
            "area_m2": 0.4,
            "closing": "weathertight",
            "leads_to": "hull",
        }
    if "shelter" in draw.plain["changes"] and u() < 0.6:
        house = draw.plain["changes"]["shelter"]["parts"]["wheelhouse"]
        x = rounded_to_cm((house["x_forward_m"] + house["x_aft_m"]) / 2.0)
        y = house["roof_half_breadth_aft_m"]
        z = rounded_to_cm(deck.deck_z(x, y) + 0.4 * house["side_height_m"])
        openings["windows"] = {
            "edge_m": [[x, y, z]],
            "side": "both",
            "area_m2": 0.1,
            "closing": "watertight",
            "leads_to": "changes.shelter.parts.wheelhouse",
        }
    return openings


def _conditions(draw):
    deck, u, plain = draw.deck, draw.u, draw.plain
    found = {"survey-state": {}}
    full = plain["tanks"]["water"]["capacity_l"]
    crew = {"mass_kg": 80.0 * plain["boat"]["persons"]}
    crew["at_m"] = [deck.x(0.75), 0.0, rounded_to_cm(deck.deck_z(deck.x(0.75)) + 0.3)]
    found["cruising"] = {
        "fills": {"water": round(0.95 * full, 0)},
        "without": ["gear"],
        "loads": {"crew": crew, "stores": draw.weight(0.005, 0.03)},
    }
    found["home"] = {
        "like": "cruising",
        "fills": {"water": round(0.1 * full, 0)},
        "loads": {"stores": {"mass_kg": 20.0}},
    }
    x = deck.x(0.55)
    side = draw.pick(-1.0, 1.0) * rounded_to_cm(0.8 * deck.half(x))
    along = {
        "mass_kg": round(u(0.01, 0.06) * draw.mass),
        "at_m": [x, rounded_to_cm(side), rounded_to_cm(deck.deck_z(x))],
    }
    found["one-sided"] = {"like": "survey-state", "loads": {"guests": along}}
    found["river"] = {"like": "cruising", "water": "fresh"}
    if "aft-deck" in plain["changes"]:
        found["swamped"] = {"like": "cruising", "floods": ["well"]}
    elif "old-well" in plain["existing"]:
        found["swamped"] = {"like": "cruising", "floods": ["old-well"], "boards": "in"}
    if u() < 0.3:
        found["after-only"] = {"like": "home", "boat": "refit"}
    mark = next(iter(plain["survey"]["marks"]))
    targets = {
        "level": {"result": "trim_mm", "condition": "survey-state", "between": [-30, 30]},
        "stiff": {"result": "gm_m", "condition": "cruising", "at_least": 0.6},
        "range": {"result": "vanishing_angle_deg", "condition": "home", "at_least": 110},
        "dry": {"result": f"freeboards.{mark}", "condition": "river", "at_least_mm": 500},
    }
    names = [name for name in targets if u() < 0.7]
    return found, {name: targets[name] for name in names}


def _options(draw):
    if draw.u() < 0.4:
        return {}
    change = {"changes.drive.adds.motor.at_m": draw.place(0.5, 0.7)}
    lead = {"adds": {"lead": draw.weight(0.01, 0.03)}}
    return {"heavier": {"note": "some lead", "set": change, "adds": {"ballast": lead}}}


def _workshop(draw):
    """What the yard has: everything, something, or nothing said."""
    if draw.u() < 0.5:
        sizes = [[3.0, 1.5], [6.0, 2.0]]
        thick = (2.5, 3.0, 4.0, 5.0, 6.0)
        draw.plain["stock"] = {
            "plates": {
                f"plate-{str(t).replace('.', '-')}": {"thickness_mm": t, "sizes_m": sizes}
                for t in thick
            },
            "bars": {"flat": {"flat_mm": [40, 4], "length_m": 6.0, "price": 1.5}},
        }
    if draw.u() < 0.2:
        timed = {"swings": 10, "times_s": [31.0, 31.5, 30.8]}
        draw.plain["trials"] = {"rolls": {"before": timed}}
