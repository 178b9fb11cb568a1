"""A platform over the stem: top plate with its slot, cheeks for the roller, stem brackets."""

from collections.abc import Callable
from dataclasses import dataclass, replace

import numpy as np

from hullchange.errors import ModelError
from hullchange.geometry.frame import FloatArray, Frame
from hullchange.geometry.host import Host
from hullchange.geometry.outline import FlatOutline, FlatPoint, Line
from hullchange.geometry.plate import Plate
from hullchange.parts.on_hull import hull_x_at
from hullchange.parts.parameters import BowPlatform
from hullchange.parts.part import Part, Site
from hullchange.parts.steelwork import (
    AFT,
    STARBOARD,
    UP,
    both_sides,
    closed_outline,
    fitted_segments,
    plate,
    with_scallop,
)
from hullchange.units import m_of_mm

ALONG_THE_SHELL = 49  # places at which a bracket's edge is looked for
LEAST_STEEL = 0.02  # [m] left beside and behind the slot (common practice, no source)


@dataclass(frozen=True, eq=False)
class _Seat:
    """How the platform lies: its mid-plane, and the stem below it."""

    host: Host
    top: Frame
    up: FloatArray
    half: float

    def under(self, x: float) -> float:
        """Height [m] of its underside over x."""
        low = self.at(0.0, 0.0, -self.half)
        return float(low[2] + (x - low[0]) * self.top.u[2] / self.top.u[0])

    def at(self, forward: float, starboard: float, above: float) -> FloatArray:
        """Point (3,) given in the platform's own directions, above its mid-plane."""
        flat = self.top.origin + forward * self.top.u + starboard * self.top.v
        return np.asarray(flat + above * self.up)


def bow_platform(given: BowPlatform, site: Site) -> Part:
    """The platform for given dimensions.

    Its underside lies on the deck's centreline, straight from its after edge over the stem.

    Raises:
        ModelError: ``platform-without-overhang``, ``bracket-longer-than-overhang``,
            ``bracket-behind-stem``, ``bracket-misses-hull``, ``slot-too-wide``,
            ``slot-too-long``, ``corner-radius-too-large``.
    """
    _require_overhang(given)
    seat = _seat(given, site.host)
    plates = (
        plate("top", seat.top, _top(given), given.top_plate_mm),
        *both_sides(_cheek(given, seat)),
        *both_sides(_bracket(given, seat)),
    )
    low, high = -seat.half, seat.half
    corners = ((0.0, low), (given.length_m, low), (given.length_m, high), (0.0, high))
    profile = np.array([seat.at(u, 0.0, w) for u, w in corners])
    views = [p.map.to_boat(p.outer.polyline(1e-3)) for p in (plates[1], plates[3])]
    return Part(given.kind, plates, side_view=tuple(v[:, [0, 2]] for v in (profile, *views)))


def _require_overhang(given: BowPlatform) -> None:
    overhang = given.length_m - given.on_deck_m
    if overhang < LEAST_STEEL:
        sentence = (
            "The platform does not reach over the stem: make it longer, or lay less of "
            "it on the deck."
        )
        raise ModelError("platform-without-overhang", sentence, "length_m")
    if given.bracket_m[0] > overhang:
        sentence = (
            "The stem brackets are longer than the overhang: make them at most "
            f"{overhang:.2f} m, or the platform longer."
        )
        raise ModelError("bracket-longer-than-overhang", sentence, "bracket_m")


def _seat(given: BowPlatform, host: Host) -> _Seat:
    x = np.array([host.stem_x + given.on_deck_m, host.stem_x])
    z = host.deck_z(x, np.zeros(2))
    ends = np.stack([x, np.zeros(2), z], axis=1)
    lying = Frame.of(ends[0], ends[1] - ends[0], STARBOARD)
    half = m_of_mm(given.top_plate_mm) / 2.0
    up = -lying.normal
    return _Seat(host, Frame(lying.origin + half * up, lying.u, lying.v), up, half)


def _top(given: BowPlatform) -> FlatOutline:
    length, half, radius = given.length_m, given.width_m / 2.0, given.corner_radius_m
    corners: list[tuple[FlatPoint, float]] = [((0.0, -half), 0.0), ((length, -half), radius)]
    largest = min(half, length)
    if given.roller_slot_mm is not None:
        slot, depth = m_of_mm(given.roller_slot_mm[0]) / 2.0, m_of_mm(given.roller_slot_mm[1])
        _require_slot(given, slot, depth)
        inner = length - depth
        corners += [
            ((length, -slot), 0.0),
            ((inner, -slot), slot),
            ((inner, slot), slot),
            ((length, slot), 0.0),
        ]
        largest = min(half - slot, length)
    if radius > largest:
        sentence = f"Corner radius {radius:.2f} m is too large: at most {largest:.3f} m here."
        raise ModelError("corner-radius-too-large", sentence, "corner_radius_m")
    corners += [((length, half), radius), ((0.0, half), 0.0)]
    whole = FlatOutline.rounded([at for at, _ in corners], [r for _, r in corners])
    after = (
        replace(s, tag="deck") if s.start[0] == s.end[0] == 0.0 else s for s in whole.segments
    )
    return FlatOutline(tuple(after))


def _require_slot(given: BowPlatform, slot: float, depth: float) -> None:
    widest = given.width_m / 2.0 - LEAST_STEEL
    if slot > widest:
        sentence = (
            "The slot leaves no platform beside it: make it at most "
            f"{2e3 * widest:.0f} mm wide."
        )
        raise ModelError("slot-too-wide", sentence, "roller_slot_mm")
    longest = given.length_m - LEAST_STEEL
    if not slot < depth <= longest:
        sentence = (
            f"The slot must be between {1e3 * slot:.0f} mm (its round end) and "
            f"{1e3 * longest:.0f} mm long."
        )
        raise ModelError("slot-too-long", sentence, "roller_slot_mm")


def _beside(given: BowPlatform) -> float:
    """Distance of cheeks and brackets from the centreline: at the slot's edge [m]."""
    thick = m_of_mm(given.cheek_plate_mm)
    if given.roller_slot_mm is None:
        return max(given.width_m / 4.0, thick)
    return m_of_mm(given.roller_slot_mm[0]) / 2.0 + thick / 2.0


def _cheek(given: BowPlatform, seat: _Seat) -> Plate:
    """Upright beside the slot, on the platform, over the slot's length."""
    slot = given.roller_slot_mm
    length = given.length_m - given.on_deck_m if slot is None else m_of_mm(slot[1])
    height = given.cheek_height_m
    radius = min(height, length) / 2.5
    corners = ((0.0, 0.0), (length, 0.0), (length, height), (0.0, height))
    outer = FlatOutline.rounded(corners, (0.0, 0.0, radius, radius))
    foot = seat.at(given.length_m - length, _beside(given), seat.half)
    return plate(
        "cheek-starboard", Frame.of(foot, seat.top.u, seat.up), outer, given.cheek_plate_mm
    )


def _bracket(given: BowPlatform, seat: _Seat) -> Plate:
    """Upright under the platform in line with the cheek, its after edge on the shell.

    The hull widens aft, so the plate's inner face is the one that meets it first; it is cut
    square, to the foremost of its faces at every height.
    """
    length, depth = given.bracket_m
    aside = _beside(given)
    reach = m_of_mm(given.cheek_plate_mm) / 2.0
    faces = np.array([aside - reach, aside + reach])

    def shell(z: FloatArray) -> FloatArray:
        x = hull_x_at(seat.host, np.tile(faces, len(z)), np.repeat(z, 2)).reshape(-1, 2)
        return np.stack([x.min(axis=1), z], axis=1)

    root = _root(given, seat, shell)
    down = shell(root[1] - np.linspace(0.0, depth, ALONG_THE_SHELL))
    if np.isnan(down).any():
        sentence = (
            f"The stem brackets, {depth:.2f} m deep, reach below the hull: make them less deep."
        )
        raise ModelError("bracket-misses-hull", sentence, "bracket_m")
    tip = root + length * seat.top.u[[0, 2]]
    edge = fitted_segments(np.concatenate([down[:0:-1], root[None]]), "hull")
    _require_before_stem(down[::-1], tip)
    frame = Frame.of(aside * STARBOARD, AFT, UP)
    top = Line(edge[-1].end, (float(tip[0]), float(tip[1])), "platform")
    whole = plate("bracket-starboard", frame, closed_outline(top, *edge), given.cheek_plate_mm)
    return with_scallop(whole, top.start, given.scallop_mm)


def _require_before_stem(stem: FloatArray, tip: FloatArray) -> None:
    """The bracket's free edge, from tip to foot, stays before the stem (n, 2), foot first."""
    (x, z), (a, b) = (stem[1:] - stem[0]).T, tip - stem[0]
    if (a * z - b * x).max() >= 0.0:
        sentence = (
            "The stem bulges into the stem brackets: make them less deep down the stem, or "
            "longer under the platform."
        )
        raise ModelError("bracket-behind-stem", sentence, "bracket_m")


def _root(
    given: BowPlatform, seat: _Seat, shell: Callable[[FloatArray], FloatArray]
) -> FloatArray:
    """Where the shell at the bracket's faces meets the platform's underside: (2,) x and z."""
    ends = seat.host.fore_x, seat.host.stem_x + given.on_deck_m
    low, high = sorted(seat.under(x) for x in ends)
    for _ in range(3):
        rows = shell(np.linspace(low - 1e-9, high + 1e-9, 9))
        over = np.array([z - seat.under(x) for x, z in rows])
        if not (over[:-1] * over[1:] <= 0.0).any():
            sentence = (
                f"{1e3 * _beside(given):.0f} mm off the centreline the hull begins aft of the "
                "platform, so the stem brackets meet nothing: bring them closer together with "
                "a narrower slot or platform, or lay more of it on the deck."
            )
            raise ModelError("bracket-misses-hull", sentence, "bracket_m")
        k = int(np.argmax(over[:-1] * over[1:] <= 0.0))
        low, high = rows[k, 1], rows[k + 1, 1]
    share = over[k] / (over[k] - over[k + 1]) if over[k] != over[k + 1] else 0.0
    return np.asarray(rows[k] + share * (rows[k + 1] - rows[k]))
