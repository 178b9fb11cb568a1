"""New and old parts for any hull: dimensions drawn over its own deck, and built to see."""

import numpy as np

from hullchange.errors import ModelError
from hullchange.parts.part import Site
from hullchange.parts.registry import KINDS

TRIES = 40
PLATES_MM = (2.5, 3.0, 4.0, 5.0, 6.0)


def _one(f, *at):
    return float(f(*(np.array([a]) for a in at))[0])


def rounded_to_cm(value):
    """To the centimetre, as an owner writes it."""
    return round(float(value), 2)


class Deck:
    """What a part is drawn over."""

    def __init__(self, host, rng):
        self.host, self.rng, self.u = host, rng, rng.uniform
        self.fore, self.aft = host.stem_x, host.transom_x
        self.length = self.aft - self.fore
        self.stations, self.halves, self.edges = host.sheer(
            np.linspace(self.fore, self.aft, 101)
        ).T
        self.beam = 2.0 * float(self.halves.max())
        self.by = np.sqrt(self.length / 10.0)  # dimensions of parts grow slower than boats

    def x(self, share):
        return rounded_to_cm(self.fore + share * self.length)

    def half(self, x):
        return float(np.interp(x, self.stations, self.halves))

    def deck_z(self, x, y=0.0):
        return _one(self.host.deck_z, x, y)

    def bottom_z(self, x, y=0.0):
        return _one(self.host.bottom_z, x, y)

    def plate(self):
        return float(self.rng.choice(PLATES_MM))

    def maybe(self, share, value):
        return value() if self.u() < share else None

    def flats(self):
        deep, thick = [(40, 4), (50, 5), (60, 6), (30, 3)][int(self.rng.integers(4))]
        return {"spacing_m": rounded_to_cm(self.u(0.3, 0.6)), "flat_mm": [deep, thick]}


def deckhouse(deck):
    """A house somewhere forward of the well; windows, door and stiffeners as it falls."""
    u, by = deck.u, deck.by
    fore = deck.x(u(0.24, 0.42))
    aft = min(rounded_to_cm(fore + u(0.2, 0.36) * deck.length), deck.x(0.72))
    lean, height = float(deck.rng.integers(0, 22)), rounded_to_cm(u(0.28, 0.75) * by)
    beside = u(0.07, 0.16) * deck.beam + height * np.tan(np.radians(lean))
    widths = [max(0.3, deck.half(x) - beside) for x in (fore, aft)]
    given = {
        "kind": "deckhouse",
        "x_forward_m": fore,
        "x_aft_m": aft,
        "roof_half_breadth_forward_m": rounded_to_cm(
            min(widths[0] * u(0.7, 1.0), widths[1] * 1.05)
        ),
        "roof_half_breadth_aft_m": rounded_to_cm(widths[1]),
        "side_height_m": height,
        "tumblehome_deg": lean,
        "front_rake_deg": float(deck.rng.integers(0, 50)),
        "roof_camber_m": rounded_to_cm(u(0.03, 0.14) * by),
        "roof_plate_mm": deck.plate(),
        "side_plate_mm": deck.plate(),
        "end_plate_mm": deck.plate(),
        "roof_beams": deck.maybe(0.7, deck.flats),
        "side_stiffeners": deck.maybe(0.6, deck.flats),
    }
    low = deck.deck_z((fore + aft) / 2.0, widths[1])
    tall = rounded_to_cm(u(0.3, 0.5) * height)
    if u() < 0.7:
        given["side_windows"] = {
            "count": int(deck.rng.integers(1, 5)),
            "size_m": [rounded_to_cm(u(0.1, 0.17) * (aft - fore)), tall],
            "corner_radius_m": 0.04,
            "lower_edge_z_m": rounded_to_cm(low + 0.36 * height),
        }
    if u() < 0.5:
        size = [rounded_to_cm(0.5 * widths[0]), rounded_to_cm(0.8 * tall)]
        given["front_windows"] = {"count": 2, "size_m": size, "corner_radius_m": 0.03}
    if u() < 0.6:
        sill = rounded_to_cm(deck.deck_z(aft) + u(-0.01, 0.06))
        given["door"] = {"width_m": rounded_to_cm(min(0.7, widths[1])), "sill_z_m": sill}
    return given


def cockpit(deck):
    """A well abaft the house, deep or shallow, drained or not."""
    u = deck.u
    fore = deck.x(u(0.7, 0.76))
    length = rounded_to_cm(min(u(0.12, 0.2) * deck.length, deck.aft - 0.3 - fore))
    width = rounded_to_cm(min(deck.half(fore), deck.half(fore + length)) * u(0.9, 1.4))
    z = rounded_to_cm(deck.deck_z(fore + length / 2.0, width / 2.0))
    seat, deep = rounded_to_cm(u(0.25, 0.4)), rounded_to_cm(u(0.2, 0.45))
    foot = rounded_to_cm(length * u(0.6, 0.9))
    return {
        "kind": "cockpit",
        "x_forward_m": fore,
        "deck_z_m": z,
        "coaming_top_z_m": rounded_to_cm(z + u(0.12, 0.35)),
        "seat_well_m": [length, width, seat],
        "foot_well_m": [foot, rounded_to_cm(width * u(0.35, 0.6)), deep],
        "foot_well_forward_m": rounded_to_cm(fore + u(0.0, 1.0) * (length - foot)),
        "plate_mm": deck.plate(),
        "forward_coaming": bool(u() < 0.3),
        "stiffeners": deck.maybe(0.6, deck.flats),
        "drains": deck.maybe(
            0.7, lambda: {"count": int(deck.rng.integers(1, 5)), "diameter_mm": 50}
        ),
    }


def transom_extension(deck):
    """A step behind the transom."""
    u, outline = deck.u, deck.host.transom_outline()
    low, corner = float(outline[0, 1]), float(outline[-1, 1])
    fore = rounded_to_cm(low + u(0.01, 0.25) * (corner - low))
    aft = rounded_to_cm(fore + u(-0.05, 0.12))
    floor = rounded_to_cm(max(fore, aft) + u(0.1, 0.6) * (corner - max(fore, aft)))
    return {
        "kind": "transom_extension",
        "length_m": rounded_to_cm(u(0.3, 1.1) * deck.by),
        "bottom_forward_z_m": fore,
        "bottom_aft_z_m": aft,
        "platform_z_m": floor,
        "plate_mm": deck.plate(),
        "scallop_mm": float(deck.rng.choice([0, 25, 30, 40])),
    }


def bow_platform(deck):
    """A platform over the stem, with or without a slot."""
    u = deck.u
    length, lies = rounded_to_cm(u(0.6, 1.3) * deck.by), rounded_to_cm(u(0.2, 0.4))
    width = rounded_to_cm(u(0.3, 0.7))
    given = {
        "kind": "bow_platform",
        "length_m": length,
        "width_m": width,
        "top_plate_mm": float(deck.rng.choice([5, 6, 8])),
        "cheek_plate_mm": float(deck.rng.choice([6, 8, 10])),
        "on_deck_m": lies,
        "corner_radius_m": rounded_to_cm(u(0.0, 0.08)),
        "bracket_m": [
            rounded_to_cm(u(0.4, 0.9) * (length - lies)),
            rounded_to_cm(u(0.1, 0.35)),
        ],
        "cheek_height_m": rounded_to_cm(u(0.06, 0.2)),
    }
    if u() < 0.6:
        given["roller_slot_mm"] = [90.0, round(u(0.3, 0.8) * (length - lies) * 1000.0, -1)]
    return given


def mast_support(deck, house, name):
    """Pad, post and floor under a house's roof."""
    u = deck.u
    x = rounded_to_cm(
        house["x_forward_m"] + u(0.3, 0.7) * (house["x_aft_m"] - house["x_forward_m"])
    )
    width = round(u(0.25, 0.6) * 1000.0, -1)
    return {
        "kind": "mast_support",
        "x_m": x,
        "stand": name,
        "pad_mm": [round(u(220, 400), -1), round(u(200, 320), -1), 12.0],
        "post_mm": [float(deck.rng.choice([76, 89, 114])), float(deck.rng.choice([4, 6]))],
        "floor_mm": [width, round(u(0.12, 0.35) * 1000.0, -1), float(deck.rng.choice([8, 10]))],
    }


def hull_plate(deck):
    """A strake replaced somewhere."""
    u, names = deck.u, deck.host.lines_up()
    at = int(deck.rng.integers(0, len(names) - 1))
    fore = deck.x(u(0.3, 0.6))
    return {
        "kind": "hull_plate",
        "x_forward_m": fore,
        "x_aft_m": rounded_to_cm(fore + u(0.05, 0.15) * deck.length),
        "lower_line": names[at],
        "upper_line": names[at + 1],
        "side": str(deck.rng.choice(["both", "starboard", "port"])),
        "plate_mm": deck.plate(),
        "old_plate_mm": deck.plate(),
    }


def plating(deck):
    """A shelf, a floor athwartships, or a pair of uprights with holes in them."""
    u = deck.u
    x, half = deck.x(u(0.35, 0.6)), rounded_to_cm(u(0.15, 0.3) * deck.beam / 2.0)
    z = rounded_to_cm(deck.bottom_z(x, half) + u(0.1, 0.3))
    given = {"kind": "plating", "thickness_mm": deck.plate()}
    which = int(deck.rng.integers(3))
    if which == 0:
        far = rounded_to_cm(x + u(0.4, 1.0))
        loop = [[x, -half, z], [far, -half, z], [far, half, z], [x, half, z]]
        return given | {"corners_m": loop}
    if which == 1:
        top = rounded_to_cm(z + u(0.2, 0.5))
        loop = [[x, -half, z], [x, half, z], [x, half, top], [x, -half, top]]
        return given | {"corners_m": loop, "scallop_corners": [1, 2], "scallop_mm": 30.0}
    far, top = rounded_to_cm(x + u(0.5, 0.9)), rounded_to_cm(z + u(0.3, 0.5))
    loop = [[x, half, z], [far, half, z], [far, half, top], [x, half, top]]
    hole = {
        "at_m": [rounded_to_cm((x + far) / 2), half, rounded_to_cm((z + top) / 2)],
        "diameter_mm": 120.0,
    }
    return given | {"corners_m": loop, "holes": [hole], "mirrored": True}


DRAWN = {
    "deckhouse": deckhouse,
    "cockpit": cockpit,
    "transom_extension": transom_extension,
    "bow_platform": bow_platform,
    "hull_plate": hull_plate,
    "plating": plating,
}


def random_dimensions(deck, kind, refusals, stand=None):
    """Dimensions the hull takes; None where forty draws fail.

    Args:
        deck: what it is drawn over.
        kind: of part.
        refusals: counts by code, added to.
        stand: name, dimensions and built part of what it stands on.
    """
    for _ in range(TRIES):
        given = DRAWN[kind](deck) if stand is None else mast_support(deck, stand[1], stand[0])
        given = {key: value for key, value in given.items() if value is not None}
        try:
            KINDS[kind].build(
                KINDS[kind].parameters(**given),
                Site(deck.host, None if stand is None else stand[2]),
            )
        except ModelError as error:
            refusals[f"{kind}: {error.code}"] += 1
            continue
        return given
    return None
