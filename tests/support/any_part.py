"""Dimensions of parts of every kind for any hull: sensible ones, and ones that stray."""

import numpy as np
from pydantic import ValidationError

from hullchange.parts.registry import KINDS

STRAYING = 0.25  # of the dimensions of a part that strays, on average


class _Deck:
    """What sensible dimensions are drawn over."""

    def __init__(self, host, draw):
        self.host, self.draw, self.u = host, draw, draw.uniform
        self.stem, self.length = host.stem_x, host.transom_x - host.stem_x

    def x(self, share):
        return self.stem + share * self.length

    def z(self, share, y=0.0):
        return float(self.host.deck_z(np.array([self.x(share)]), np.array([y]))[0])

    def half(self, share):
        return float(self.host.sheer(np.array([self.x(share)]))[0, 1])

    def plate(self, *thicknesses):
        return float(self.draw.choice(thicknesses))


def metres(value):
    """To the millimetre, as an owner writes it."""
    return round(float(value), 3)


def plausible_dimensions(kind, host, draw):
    """Dimensions of a part that might be built on a hull, as a plain mapping."""
    return SENSIBLE[kind](_Deck(host, draw))


def _house(deck):
    u, fore, aft = deck.u, deck.u(0.25, 0.4), deck.u(0.55, 0.7)
    walls = u(0.45, 0.7)
    return {
        "x_forward_m": metres(deck.x(fore)),
        "x_aft_m": metres(deck.x(aft)),
        "roof_half_breadth_forward_m": metres(walls * deck.half(fore)),
        "roof_half_breadth_aft_m": metres(walls * deck.half(aft)),
        "side_height_m": metres(u(0.3, 0.6)),
        "tumblehome_deg": float(deck.draw.integers(0, 16)),
        "front_rake_deg": float(deck.draw.integers(0, 45)),
        "roof_camber_m": metres(u(0.02, 0.12)),
        "roof_plate_mm": deck.plate(2.5, 3.0, 4.0, 5.0),
        "side_plate_mm": deck.plate(2.5, 3.0, 4.0),
        "end_plate_mm": deck.plate(3.0, 4.0, 6.0),
        "roof_beams": {"spacing_m": metres(u(0.3, 0.6)), "flat_mm": [50, 5]},
        "side_stiffeners": {"spacing_m": metres(u(0.3, 0.6)), "flat_mm": [40, 4]},
    }


def _cockpit(deck):
    u, fore, run = deck.u, deck.u(0.6, 0.72), deck.u(0.12, 0.22) * deck.length
    wide = 2.0 * u(0.4, 0.75) * min(deck.half(fore), deck.half(0.9))
    level, x = deck.z(fore + 0.1, wide / 2.0), deck.x(fore)
    return {
        "x_forward_m": metres(x),
        "deck_z_m": metres(level),
        "coaming_top_z_m": metres(level + u(0.0, 0.3)),
        "seat_well_m": [metres(run), metres(wide), metres(u(0.2, 0.35))],
        "foot_well_m": [metres(0.7 * run), metres(0.5 * wide), metres(u(0.2, 0.4))],
        "foot_well_forward_m": metres(x + 0.15 * run),
        "plate_mm": deck.plate(3.0, 4.0, 5.0),
        "stiffeners": {"spacing_m": metres(u(0.25, 0.5)), "flat_mm": [40, 4]},
        "drains": {"count": int(deck.draw.integers(1, 5)), "diameter_mm": 50},
    }


def _extension(deck):
    """Its platform is as often as not level with one of the hull's own lines."""
    u, draw, outline = deck.u, deck.draw, deck.host.transom_outline()
    low, high = float(outline[0, 2]), float(outline[-1, 2])
    bottom = metres(low + u(0.0, 0.1))
    levels = [u(low + 0.15, high), float(draw.choice(outline[:, 2]))]
    return {
        "length_m": metres(u(0.2, 1.5)),
        "bottom_forward_z_m": bottom,
        "bottom_aft_z_m": metres(bottom + draw.choice([0.0, u(-0.1, 0.2)])),
        "platform_z_m": metres(levels[int(draw.integers(2))]),
        "plate_mm": deck.plate(3.0, 4.0, 6.0),
    }


def _platform(deck):
    u = deck.u
    return {
        "length_m": metres(u(0.7, 1.4)),
        "width_m": metres(u(0.25, 0.7)),
        "top_plate_mm": deck.plate(4.0, 6.0, 8.0),
        "cheek_plate_mm": deck.plate(6.0, 10.0),
        "on_deck_m": metres(u(0.2, 0.5)),
        "roller_slot_mm": [90.0, 420.0] if deck.draw.random() < 0.7 else None,
        "bracket_m": [metres(u(0.1, 0.3)), metres(u(0.1, 0.3))],
    }


def _support(deck):
    draw = deck.draw
    return {
        "stand": "house",
        "x_m": metres(deck.x(deck.u(0.42, 0.52))),
        "pad_mm": [float(draw.integers(15, 45) * 10), 200.0, 12.0],
        "post_mm": [float(draw.integers(60, 140)), 6.0],
        "floor_mm": [float(draw.integers(20, 60) * 10), 300.0, 10.0],
    }


def _strake(deck):
    lines, x = deck.host.lines_up(), deck.x(deck.u(0.15, 0.6))
    k = int(deck.draw.integers(len(lines) - 1))
    return {
        "x_forward_m": metres(x),
        "x_aft_m": metres(x + deck.u(0.05, 0.2) * deck.length),
        "lower_line": lines[k],
        "upper_line": lines[k + 1],
        "plate_mm": 5.0,
        "old_plate_mm": 5.0,
    }


def _bulwark(deck):
    u, fore = deck.u, deck.u(0.03, 0.3)
    ports = {"count": int(deck.draw.integers(1, 5)), "size_m": [0.25, 0.07]}
    return {
        "x_forward_m": metres(deck.x(fore)),
        "x_aft_m": metres(deck.x(fore + u(0.2, 0.6))),
        "height_forward_m": metres(u(0.15, 0.5)),
        "height_aft_m": metres(u(0.15, 0.5)),
        "flare_deg": float(deck.draw.integers(-5, 20)),
        "plate_mm": deck.plate(3.0, 4.0, 5.0),
        "cap_rail_mm": [60.0, 8.0] if deck.draw.random() < 0.7 else None,
        "freeing_ports": ports if deck.draw.random() < 0.7 else None,
    }


def _plate(deck):
    u = deck.u
    x, y, z = u(1.0, 6.0), u(-0.4, 0.4), u(-0.5, 1.0)
    ring = [(0, 0), (u(0.4, 1.0), u(-0.1, 0.1)), (u(0.4, 1.0), u(0.3, 0.6)), (0, u(0.2, 0.5))]
    return {
        "corners_m": [[metres(x + a), metres(y), metres(z + b)] for a, b in ring],
        "thickness_mm": 5.0,
        "mirrored": bool(deck.draw.random() < 0.5),
    }


SENSIBLE = {
    "deckhouse": _house,
    "cockpit": _cockpit,
    "transom_extension": _extension,
    "bow_platform": _platform,
    "mast_support": _support,
    "hull_plate": _strake,
    "bulwark": _bulwark,
    "plating": _plate,
}


def partly_random_dimensions(kind, host, draw):
    """The same with some dimensions anywhere they are not refused by themselves."""
    plain = plausible_dimensions(kind, host, draw)
    schema = KINDS[kind].parameters.model_json_schema()
    for key, rule in schema["properties"].items():
        if key in ("kind", "stand", "opening", "lower_line", "upper_line"):
            continue
        if draw.random() < STRAYING:
            plain[key] = _anything(rule, schema, draw, plain.get(key))
    return plain


def dimensions(kind, plain):
    """Dimensions of a plain mapping; None where one of them is refused by itself."""
    try:
        return KINDS[kind].parameters.model_validate({"kind": kind, **plain})
    except ValidationError:
        return None


def _anything(rule, whole, draw, now):
    """A value that a rule of the schema lets through, near the one that stands there or not."""
    while "$ref" in rule or "anyOf" in rule:
        if "$ref" in rule:
            rule = whole["$defs"][rule["$ref"].rsplit("/", 1)[1]]
        else:
            rule = rule["anyOf"][int(draw.integers(len(rule["anyOf"])))]
    if rule.get("type") == "null":
        return None
    drawn = {
        "boolean": lambda: bool(draw.random() < 0.5),
        "integer": lambda: int(draw.integers(rule.get("minimum", 0), 10)),
        "number": lambda: _number(rule, draw, now),
        "object": lambda: {
            key: _anything(inner, whole, draw, None)
            for key, inner in rule["properties"].items()
        },
        "array": lambda: _row(rule, whole, draw, now),
        "string": lambda: str(draw.choice(rule["enum"])),
    }
    return drawn[rule["type"]]()


def _row(rule, whole, draw, now):
    """Several numbers in a row; lists of corners and holes stay as they are."""
    if "prefixItems" not in rule:
        return [] if now is None else now
    rows = now if isinstance(now, list) else [None] * len(rule["prefixItems"])
    pairs = zip(rule["prefixItems"], rows, strict=True)
    return [_anything(inner, whole, draw, value) for inner, value in pairs]


def _number(rule, draw, now):
    low, high = rule.get("minimum", -10.0), rule.get("maximum", 30.0)
    typical = rule.get("typical_minimum", low), rule.get("typical_maximum", high)
    way = draw.random()
    if way < 0.5 and isinstance(now, int | float):
        value = now * draw.uniform(0.7, 1.4)
    elif way < 0.85:
        value = draw.uniform(*typical)
    else:
        value = draw.uniform(low, high)
    return round(float(np.clip(value, low, high)), 3)
