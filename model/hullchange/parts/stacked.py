"""Houses that stand on another house, or against it: what they share and who makes it.

A house on another's roof is fitted to that roof. Where both end at one bulkhead it is made
once, from the deck up, by the taller; the roof below is cut out inside the walls on it.
"""

from functools import partial

import numpy as np

from hullchange.errors import ModelError
from hullchange.geometry.developable import Cone
from hullchange.geometry.frame import FloatArray
from hullchange.geometry.host import Host
from hullchange.geometry.outline import FlatOutline, flat_points
from hullchange.geometry.roof_host import RoofHost, roof_z
from hullchange.parts.house_shape import HouseShape, Wall
from hullchange.parts.openings import EndWall
from hullchange.parts.parameters import Deckhouse
from hullchange.parts.part import Carried, Site
from hullchange.parts.steelwork import spline_through
from hullchange.plain_words import id_in_words

LEDGE = 0.030
"""[m] of the roof below left inside the walls that stand on it (common practice, no source)."""

LEAST_HOLE = 0.10  # [m] long and broad
ONE_PLANE = 1e-3  # [m] within which two ends are one
NO_HOLE = np.zeros((0, 2))


def ground_of(given: Deckhouse, site: Site) -> Host:
    """What a house is fitted to: the deck, or the roof of the house it stands on.

    Raises:
        ModelError: ``nothing-to-stand-on``, ``shared-end-apart``, ``shared-end-stays``.
    """
    if given.stand is None:
        return site.host
    lower, roof = _lower(site)
    if given.shared_end != "none":
        _require_one_plane(given, lower, site)
    if given.shared_end == "forward":
        return site.host
    outer = roof.offset(site.stand.roof_thickness / 2.0 if site.stand else 0.0)
    start, end = float(lower.front_top[:, 0].max()), float(lower.after_top[0, 0])
    return RoofHost(site.host, outer, float(lower.azimuths[-1]), start, end + ONE_PLANE)


def _lower(site: Site) -> tuple[HouseShape, Cone]:
    stand = site.stand
    if stand is None or stand.house is None or not isinstance(stand.roof, Cone):
        sentence = (
            "A house stands on the deck or on another house: under stand name a deckhouse."
        )
        raise ModelError("nothing-to-stand-on", sentence, "stand")
    return stand.house, stand.roof


def _require_one_plane(given: Deckhouse, lower: HouseShape, site: Site) -> None:
    place = "x_forward_m" if given.shared_end == "forward" else "x_aft_m"
    x, wanted = getattr(given, place), float(lower.after.origin[0])
    below = id_in_words(given.stand or "")
    if site.stand_stays:
        sentence = (
            f"{below.capitalize()} stays as it is, with its own after end: leave out "
            "shared_end, and build against it."
        )
        raise ModelError("shared-end-stays", sentence, "shared_end")
    upright = given.shared_end == "aft" or given.front_rake_deg == 0.0
    if abs(x - wanted) <= ONE_PLANE and upright:
        return
    rake = " and front_rake_deg: 0" if given.shared_end == "forward" else ""
    sentence = (
        f"The after end of {below} is upright at x {wanted:.3f} m, so a shared "
        f"end must be there too: give {place}: {wanted:.3f}{rake}."
    )
    raise ModelError("shared-end-apart", sentence, place)


def carried_by(lower: HouseShape, given: Deckhouse, upper: HouseShape) -> Carried:
    """What a house has to do for one that stands on it or against it."""
    taller = given.shared_end == "aft" or (
        given.shared_end == "forward" and front_is_taller(lower, upper)
    )
    opens = given.opens_below and given.shared_end != "forward"
    return Carried(_hole(upper) if opens else NO_HOLE, taller)


def front_is_taller(lower: HouseShape, upper: HouseShape) -> bool:
    """Whether the front of one house is higher than the after end it shares."""
    return float(upper.front_top[:, 2].max()) > float(lower.after_top[:, 2].max())


def _hole(upper: HouseShape) -> FloatArray:
    """(n, 2) plan [m] of the roof cut out inside a house's walls; empty where too small."""
    fore = float(upper.front_foot[:, 0].max()) + LEDGE
    aft = float(upper.after_foot[:, 0].min()) - LEDGE
    x = np.linspace(fore, aft, 5)
    y = np.interp(x, *upper.side_foot[:, :2].T) - LEDGE
    if aft - fore < LEAST_HOLE or 2.0 * y.min() < LEAST_HOLE:
        return NO_HOLE
    return np.column_stack([x, y])


def shared_after_end(upper: HouseShape, lower: HouseShape) -> EndWall:
    """The bulkhead that is the after end of both, from the deck up."""
    frame = lower.after
    foot, below = lower.after_wall.foot, lower.after_wall.top
    over, corner = frame.to_flat(upper.after_top), frame.to_flat(upper.after_foot[-1:])
    outside = below[below[:, 0] > corner[0, 0] + ONE_PLANE][::-1]
    ledge = np.concatenate([outside, corner])
    edges = [spline_through(over[::-1], "roof")]
    if len(ledge) > 1:
        port = (ledge * np.array([-1.0, 1.0]))[::-1]
        edges = [spline_through(ledge, "roof"), *edges, spline_through(port, "roof")]
    wall = Wall(foot, over)
    return EndWall(frame, wall, partial(lower.foot_between, frame), tuple(edges), "below")


def wall_above(upper: HouseShape, lower: HouseShape) -> Wall:
    """Where windows fit in a front that is also the after end of a lower house: above it.

    Raises:
        ModelError: ``shared-end-not-covered``.
    """
    wall, roof = upper.front_wall, upper.front.to_flat(lower.after_top)
    _require_covered(wall, roof)
    y = np.unique(np.concatenate([wall.foot[:, 0], roof[:, 0]]))
    free = np.interp(y, *wall.foot.T)
    beside = np.abs(y) <= roof[-1, 0] + ONE_PLANE
    free = np.where(beside, np.maximum(free, np.interp(y, *roof.T)), free)
    return Wall(np.column_stack([y, free]), wall.top)


def roof_opening(roof: Cone, hole: FloatArray) -> FlatOutline:
    """An opening in a roof, flat, by its plan.

    Args:
        roof: its mid-surface.
        hole: (n, 2) starboard side of the plan [m], from forward aft.
    """
    plan = np.concatenate([hole, hole[::-1] * np.array([1.0, -1.0])])
    height = roof_z(roof, plan[:, 0], plan[:, 1])
    flat = roof.to_flat(np.column_stack([plan, height]))
    return FlatOutline.polygon(flat_points(flat))


def require_covered_front(upper: HouseShape, lower: HouseShape) -> None:
    """Refuse unless the after end of a taller house covers the front that stands against it.

    Raises:
        ModelError: ``shared-end-not-covered``.
    """
    _require_covered(lower.after_wall, lower.after.to_flat(upper.front_top))


def _require_covered(wall: Wall, top: FloatArray) -> None:
    """Refuse where the top (n, 2) [m] of the lower end reaches beyond the higher one."""
    out = float((np.abs(top[:, 0]) - wall.ends(top[:, 1])[1]).max())
    if out > ONE_PLANE:
        sentence = (
            f"The lower end reaches {1e3 * out:.0f} mm beyond the higher one they are to "
            "share: make the higher house as wide there, or set shared_end: none."
        )
        raise ModelError("shared-end-not-covered", sentence, "shared_end")
