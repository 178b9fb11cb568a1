"""The shape of a deckhouse: planes of its sides and ends, cone of its roof, where they meet.

The roof's edges run straight. Their height above the deck at the side is given at both ends; or
at mid-length, and then they slope as the chord of that deck between the house's two ends. The
sides are the planes through them, leaning inboard by the tumblehome in the cross-section. The
roof is the right circular cone through both edges with the given camber at mid-length, so its
rulings run straight lengthwise and it rolls from flat plate; with parallel edges it is a
cylinder. Every dimension is to mid-surfaces.
"""

from dataclasses import dataclass
from functools import cached_property
from math import hypot, radians, tan

import numpy as np

from hullchange.errors import ModelError
from hullchange.geometry.developable import Cone
from hullchange.geometry.frame import FloatArray, Frame
from hullchange.geometry.host import Host
from hullchange.geometry.roof_host import RoofHost
from hullchange.parts.parameters import Deckhouse
from hullchange.parts.steelwork import AFT, STARBOARD, UP, moved_onto

ACROSS = 13  # points on each curve athwartships; a deck through seven is 7 mm2 off in 3 m2
ALONG = 13
SIDE_HEIGHTS = ("side_height_m", "side_height_forward_m", "side_height_aft_m")
LEAST_WALL = 0.03
"""[m] lowest wall and shortest roof that are still built."""

STEEL_AROUND = 0.02
"""[m] least steel left between an opening and any edge (common practice, no source)."""


@dataclass(frozen=True, eq=False)
class Wall:
    """A wall in its own flat coordinates, as openings need it.

    Attributes:
        foot: (n, 2) lower edge [m], first coordinate rising.
        top: (n, 2) upper edge [m], first coordinate rising.
    """

    foot: FloatArray
    top: FloatArray

    def ends(self, level: FloatArray) -> tuple[FloatArray, FloatArray]:
        """First coordinates (k,) [m] of both ends of the wall at levels (k,) [m]."""
        low, high = (
            self.foot[k, 0]
            + (level - self.foot[k, 1])
            * ((self.top[k, 0] - self.foot[k, 0]) / (self.top[k, 1] - self.foot[k, 1]))
            for k in (0, -1)
        )
        return low, high

    def room(self, middle: FloatArray, width: float) -> tuple[FloatArray, FloatArray]:
        """Highest foot and lowest top (k,) [m] over openings.

        Args:
            middle: (k,) [m] first coordinate of each opening's middle.
            width: [m] of the openings.
        """
        at = middle[:, None] + np.linspace(-width / 2.0, width / 2.0, 7)
        foot = np.interp(at, *self.foot.T).max(axis=1)
        return foot + STEEL_AROUND, np.interp(at, *self.top.T).min(axis=1) - STEEL_AROUND


@dataclass(frozen=True, eq=False)
class HouseShape:
    """Planes, roof and the points where they meet.

    Attributes:
        host: what it stands on.
        side: starboard side; u aft along the roof's edge (v = 0), v up, origin at mid-length.
        front: u to starboard, v up the rake, origin on the deck on the centreline.
        after: the same of the after end.
        roof: cone of the roof, origin on the crown at mid-length, u aft.
        azimuths: (n,) [rad] of rulings from the port edge to the starboard edge.
        front_top: (n, 3) [m] where they meet the front.
        after_top: (n, 3) [m] where they meet the after end.
        front_foot: (n, 3) [m] front on the deck, port to starboard.
        after_foot: (n, 3) [m] after end on the deck, port to starboard.
        side_foot: (m, 3) [m] starboard side on the deck, from forward aft.
    """

    host: Host
    side: Frame
    front: Frame
    after: Frame
    roof: Cone
    azimuths: FloatArray
    front_top: FloatArray
    after_top: FloatArray
    front_foot: FloatArray
    after_foot: FloatArray
    side_foot: FloatArray

    @cached_property
    def side_wall(self) -> Wall:
        """The starboard side."""
        ends = np.array([self.front_top[-1], self.after_top[-1]])
        return Wall(self.side.to_flat(self.side_foot), self.side.to_flat(ends))

    @cached_property
    def front_wall(self) -> Wall:
        """The front."""
        return Wall(self.front.to_flat(self.front_foot), self.front.to_flat(self.front_top))

    @cached_property
    def after_wall(self) -> Wall:
        """The after end."""
        return Wall(self.after.to_flat(self.after_foot), self.after.to_flat(self.after_top))

    def foot_between(self, end: Frame, low: float, high: float, count: int) -> FloatArray:
        """(n, 3) points [m] of an end on the deck, between two half-breadths.

        Args:
            end: plane of the front or the after end.
            low: half-breadth of the first point [m], positive to starboard.
            high: half-breadth of the last point [m].
            count: number of points.
        """
        y = np.linspace(low, high, count)
        return moved_onto(self.host.deck_z, end.origin + y[:, None] * end.u, end.v)


def house_shape(given: Deckhouse, host: Host) -> HouseShape:
    """The shape for given dimensions on a boat.

    Raises:
        ModelError: ``ends-the-wrong-way-round``, ``house-off-the-deck``,
            ``house-wider-than-deck``, ``roof-too-round``, ``roof-without-length``,
            ``deck-above-roof``.
    """
    _require_place(given, host)
    side, half_breadth = _side_frame(given, host)
    roof, edge = _roof(given, side, half_breadth)
    front = _end_frame(given.x_forward_m, given.front_rake_deg, host)
    after = _end_frame(given.x_aft_m, 0.0, host)
    azimuths = np.linspace(-edge, edge, ACROSS)
    tops = roof.crossing(front, azimuths), roof.crossing(after, azimuths)
    if (tops[1][:, 0] - tops[0][:, 0]).min() < LEAST_WALL:
        sentence = (
            "The front rakes so far aft that no roof is left: reduce the rake or the "
            "side height."
        )
        raise ModelError("roof-without-length", sentence, "front_rake_deg")
    feet = _feet(host, side, front, after, (tops[0][-1], tops[1][-1]))
    shape = HouseShape(host, side, front, after, roof, azimuths, *tops, *feet)
    _require_walls(shape, given)
    _require_deck_beside(shape)
    return shape


def _ground(host: Host) -> str:
    return "roof" if isinstance(host, RoofHost) else "deck"


def _require_place(given: Deckhouse, host: Host) -> None:
    if given.x_aft_m - given.x_forward_m < LEAST_WALL:
        sentence = "The after end is forward of the front: x_aft_m must be the larger."
        raise ModelError("ends-the-wrong-way-round", sentence, "x_aft_m")
    for place in ("x_forward_m", "x_aft_m"):
        x = getattr(given, place)
        if not host.stem_x < x < host.transom_x:
            sentence = (
                f"x {x:.2f} m is off the {_ground(host)}, which runs from x "
                f"{host.stem_x:.2f} to {host.transom_x:.2f} m."
            )
            raise ModelError("house-off-the-deck", sentence, place)


def end_heights(given: Deckhouse, host: Host) -> tuple[float, float]:
    """Heights of a house's side at the front's station and at the after end, as built [m].

    A house of one height that is given these two instead is built the same.
    """
    edge = _edge(given, host)
    forward, aft = (edge.z - edge.deck).tolist()
    return forward, aft


def with_end_heights(given: Deckhouse, host: Host) -> Deckhouse:
    """The same house by its heights at both ends, to a tenth of a millimetre.

    So that either end can be raised by itself.
    """
    forward, aft = (round(height, 4) for height in end_heights(given, host))
    return given.model_copy(
        update={
            "side_height_m": None,
            "side_height_forward_m": forward,
            "side_height_aft_m": aft,
        }
    )


def side_height(given: Deckhouse, name: str, host: Host) -> float:
    """One of the heights of a house's side [m], whichever of them are given.

    Args:
        given: the house.
        name: ``side_height_m``, ``side_height_forward_m`` or ``side_height_aft_m``.
        host: what it stands on.
    """
    own: float | None = getattr(given, name)
    if own is not None:
        return own
    if name != "side_height_m":
        return end_heights(given, host)[name == "side_height_aft_m"]
    ends, breadths, lean = _plan(given)
    middle, height = _edge(given, host).middle, sum(given.end_heights_m or ()) / 2.0
    for _ in range(6):  # as above, the lean moves the foot
        foot = np.array([ends.mean()]), np.array([breadths.mean() + height * lean])
        height = middle - float(host.deck_z(*foot)[0])
    return height


@dataclass(frozen=True, eq=False)
class _RoofEdge:
    """The roof's starboard edge.

    Attributes:
        middle: its height at mid-length [m].
        slope: its rise per length aft.
        z: (2,) its heights at both ends [m].
        deck: (2,) heights of the deck at the side there [m].
    """

    middle: float
    slope: float
    z: FloatArray
    deck: FloatArray


def _edge(given: Deckhouse, host: Host) -> _RoofEdge:
    ends, breadths, lean = _plan(given)
    length, x_mid, y_mid = ends[1] - ends[0], ends.mean(), float(breadths.mean())
    if given.end_heights_m is not None:
        heights = np.array(given.end_heights_m)
        deck = host.deck_z(ends, breadths + heights * lean)
        z = deck + heights
        return _RoofEdge(float(z.mean()), float(z[1] - z[0]) / float(length), z, deck)
    assert given.side_height_m is not None
    height = given.side_height_m
    foot = np.array([x_mid]), np.array([y_mid + height * lean])
    z_mid = float(host.deck_z(*foot)[0]) + height
    slope, deck = 0.0, np.full(2, z_mid - height)
    for _ in range(6):  # each round leaves the camber's slope times the lean: a hundredth
        edge = z_mid + slope * (ends - x_mid)
        deck = host.deck_z(ends, breadths + (edge - deck) * lean)
        slope = float(deck[1] - deck[0]) / float(length)
    return _RoofEdge(z_mid, slope, z_mid + slope * (ends - x_mid), deck)


def _plan(given: Deckhouse) -> tuple[FloatArray, FloatArray, float]:
    """Stations (2,) and half-breadths (2,) of the edge's ends [m]; the lean per height."""
    ends = np.array([given.x_forward_m, given.x_aft_m])
    breadths = np.array([given.roof_half_breadth_forward_m, given.roof_half_breadth_aft_m])
    return ends, breadths, tan(radians(given.tumblehome_deg))


def _side_frame(given: Deckhouse, host: Host) -> tuple[Frame, float]:
    """The starboard side's frame, and the roof's half-breadth at mid-length."""
    ends, breadths, lean = _plan(given)
    edge = _edge(given, host)
    y_mid = float(breadths.mean())
    along = np.array([1.0, (breadths[1] - breadths[0]) / (ends[1] - ends[0]), edge.slope])
    up = UP - lean * STARBOARD
    return Frame.of(np.array([ends.mean(), y_mid, edge.middle]), along, up), y_mid


def _roof(given: Deckhouse, side: Frame, half_breadth: float) -> tuple[Cone, float]:
    """The cone through both edges and the crown, and the azimuth of the starboard edge."""
    camber = given.roof_camber_m
    if camber > 0.8 * half_breadth:
        sentence = (
            f"A camber of {camber * 1e3:.0f} mm on a half-breadth of {half_breadth:.2f} m "
            f"makes nearly a half circle: make it at most {800 * half_breadth:.0f} mm."
        )
        raise ModelError("roof-too-round", sentence, "roof_camber_m")
    widening, rise = side.u[1] / side.u[0], side.u[2] / side.u[0]
    crown_way = np.array([1.0, 0.0, rise + camber * widening / half_breadth])
    crown_way /= np.linalg.norm(crown_way)
    axis = _axis(side.u, crown_way)
    out = np.array([-axis[2], 0.0, axis[0]])
    crown = np.array([side.origin[0], 0.0, side.origin[2] + camber])
    spread = float(np.arctan2(crown_way @ out, crown_way @ axis))
    along, sag = (side.origin - crown) @ axis, (side.origin - crown) @ out
    growth = tan(spread) * along
    radius = float((half_breadth**2 + sag**2 - growth**2) / (2.0 * (growth - sag)))
    edge = float(np.arctan2(half_breadth, sag + radius))
    return Cone(crown, axis, out, STARBOARD, radius, spread), edge


def _axis(edge: FloatArray, crown: FloatArray) -> FloatArray:
    """Unit vector aft in the centreplane, as oblique to the edge as to the crown."""
    x, z = edge[0] - crown[0], edge[2] - crown[2]
    size = hypot(x, z)
    if size < 1e-10:  # parallel to a nanometre: a cylinder
        return crown
    axis = np.array([z, 0.0, -x]) / size
    return np.asarray(axis * np.sign(axis[0]))


def _end_frame(x: float, rake_deg: float, host: Host) -> Frame:
    """Plane of an end: through the deck on the centreline at x, leaning aft going up."""
    z = float(host.deck_z(np.array([x]), np.zeros(1))[0])
    up = UP + tan(radians(rake_deg)) * AFT
    return Frame.of(np.array([x, 0.0, z]), STARBOARD, up)


def _feet(
    host: Host, side: Frame, front: Frame, after: Frame, tops: tuple[FloatArray, FloatArray]
) -> tuple[FloatArray, FloatArray, FloatArray]:
    """Front, after end and starboard side on the deck."""
    edges = np.array([np.cross(side.normal, end.normal) for end in (front, after)])
    corners = moved_onto(host.deck_z, np.array(tops), edges)
    (first, last), across = side.to_flat(corners)[:, 0], np.linspace(-1.0, 1.0, ACROSS)
    u = np.linspace(first, last, ALONG)
    starts = [
        front.origin + (across * front.to_flat(corners[:1])[0, 0])[:, None] * front.u,
        after.origin + (across * after.to_flat(corners[1:])[0, 0])[:, None] * after.u,
        side.origin + u[:, None] * side.u,
    ]
    ways = [
        np.tile(f.v, (len(s), 1)) for f, s in zip((front, after, side), starts, strict=True)
    ]
    feet = moved_onto(host.deck_z, np.concatenate(starts), np.concatenate(ways))
    return feet[:ACROSS], feet[ACROSS : 2 * ACROSS], feet[2 * ACROSS :]


def _require_walls(shape: HouseShape, given: Deckhouse) -> None:
    front, after = shape.front_wall, shape.after_wall
    heights = np.concatenate(
        [
            -shape.side_wall.foot[:, 1],
            front.top[:, 1] - front.foot[:, 1],
            after.top[:, 1] - after.foot[:, 1],
        ]
    )
    if heights.min() < LEAST_WALL:
        sentence = (
            f"The {_ground(shape.host)} comes within {heights.min() * 1e3:.0f} mm of the roof "
            "edge in places: raise the side, or shorten the house."
        )
        ends = given.end_heights_m or (0.0, 0.0)
        lower = "forward" if ends[0] < ends[1] else "aft"
        place = "side_height_m" if given.end_heights_m is None else f"side_height_{lower}_m"
        raise ModelError("deck-above-roof", sentence, place)


def _require_deck_beside(shape: HouseShape) -> None:
    feet = shape.side_foot
    beyond = feet[:, 1] - shape.host.sheer(feet[:, 0])[:, 1]
    if beyond.max() > 0.0:
        worst = int(np.argmax(beyond))
        sentence = (
            f"At x {feet[worst, 0]:.2f} m the side stands {beyond[worst] * 1e3:.0f} mm "
            f"outside the {_ground(shape.host)} edge: reduce breadth, height or tumblehome."
        )
        raise ModelError("house-wider-than-deck", sentence, "roof_half_breadth_aft_m")
