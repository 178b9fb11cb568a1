"""A bulwark: plate bent along the deck's edge, a cap rail on it, ports that free the deck.

The plate is ruled between the deck's edge and its top, leaning outboard square to that edge in
plan, and developed. The rail lies level athwartships and is developed too. Both are drawn to
their middle surfaces, the plate's on the deck's edge.
"""

from collections.abc import Iterator
from math import floor, radians, tan

import numpy as np

from hullchange.errors import ModelError
from hullchange.findings import Finding, Severity
from hullchange.geometry.frame import FloatArray
from hullchange.geometry.host import Host
from hullchange.geometry.outline import FlatOutline
from hullchange.geometry.plate import Plate
from hullchange.geometry.ruled_plate import YIELD_STRAIN
from hullchange.geometry.strip import Strip
from hullchange.parts.bulwark_parameters import Bulwark, FreeingPorts
from hullchange.parts.house_shape import STEEL_AROUND
from hullchange.parts.hull_plate import ALONG, LEAST_LENGTH, RULINGS, strip_outline
from hullchange.parts.part import Part, Site
from hullchange.parts.steelwork import UP, both_sides
from hullchange.units import deg_of_rad, m_of_mm

HAIR = 1e-3  # [m] for slopes


def bulwark(given: Bulwark, site: Site) -> Part:
    """The bulwark on both sides.

    Raises:
        ModelError: ``ends-the-wrong-way-round``, ``bulwark-off-the-deck``, ``plate-twisted``,
            ``ports-too-wide``, ``port-outside-bulwark``, ``corner-radius-too-large``.
    """
    _require_place(given, site.host)
    x = np.linspace(given.x_forward_m, given.x_aft_m, ALONG)
    edge, out = site.host.sheer(x), _outboard(site.host, x)
    height = np.linspace(given.height_forward_m, given.height_aft_m, ALONG)[:, None]
    top = edge + height * (UP + tan(radians(given.flare_deg)) * out)
    side = _bent(edge, top, "height_forward_m")
    holes = _ports(side, given.freeing_ports) if given.freeing_ports else ()
    outline = strip_outline(side, ("deck", "rail"))
    plates = [_plate("plate-starboard", outline, given.plate_mm, side, holes)]
    doubts = list(_doubts(side, "height_forward_m"))
    if given.cap_rail_mm is not None:
        width, thickness = given.cap_rail_mm
        middle = top + UP * m_of_mm(thickness) / 2.0
        half = out * m_of_mm(width) / 2.0
        rail = _bent(middle - half, middle + half, "cap_rail_mm")
        outline = strip_outline(rail, ("inner", "outer"))
        plates.append(_plate("cap-rail-starboard", outline, thickness, rail, ()))
        doubts += _doubts(rail, "cap_rail_mm")
    return Part(
        given.kind,
        tuple(one for plate in plates for one in both_sides(plate)),
        side_view=(np.concatenate([edge, top[::-1]])[:, [0, 2]],),
        findings=tuple(doubts),
    )


def _plate(
    name: str,
    outer: FlatOutline,
    thickness_mm: float,
    strip: Strip,
    holes: tuple[FlatOutline, ...],
) -> Plate:
    return Plate(name, "plate", outer, m_of_mm(thickness_mm), strip, holes)


def _require_place(given: Bulwark, host: Host) -> None:
    if given.x_aft_m - given.x_forward_m < LEAST_LENGTH:
        sentence = "The after end is forward of the forward end: x_aft_m must be the larger."
        raise ModelError("ends-the-wrong-way-round", sentence, "x_aft_m")
    for place in ("x_forward_m", "x_aft_m"):
        x = getattr(given, place)
        if not host.stem_x <= x <= host.transom_x:
            sentence = (
                f"x {x:.2f} m is off the deck, whose edge runs from x {host.stem_x:.2f} to "
                f"{host.transom_x:.2f} m."
            )
            raise ModelError("bulwark-off-the-deck", sentence, place)


def _outboard(host: Host, x: FloatArray) -> FloatArray:
    """(n, 3) level unit vectors outboard, square to the deck's edge in plan."""
    low = np.clip(x - HAIR, host.stem_x, host.transom_x)
    high = np.clip(x + HAIR, host.stem_x, host.transom_x)
    way = host.sheer(high) - host.sheer(low)
    out = np.stack([-way[:, 1], way[:, 0], np.zeros(len(x))], axis=1)
    return np.asarray(out / np.linalg.norm(out, axis=1)[:, None])


def _bent(first: FloatArray, second: FloatArray, place: str) -> Strip:
    from hullchange.geometry.ruled import ruled  # takes a second to load

    try:
        return Strip(ruled(first, second, count=RULINGS))
    except ModelError as error:
        raise error.at(place) from error


def _doubts(strip: Strip, place: str) -> Iterator[Finding]:
    plate = strip.ruled
    if plate.doubtful:
        sentence = (
            f"It twists by {deg_of_rad(float(plate.twist.max())):.1f}° and stretches by "
            f"{100.0 * plate.strain:.2f} % when bent, and steel yields at "
            f"{100.0 * YIELD_STRAIN:.2f} %: expect to force it, or divide it by a seam."
        )
        yield Finding("plate-forced", Severity.WARN, place, sentence)


def _ports(side: Strip, given: FreeingPorts) -> tuple[FlatOutline, ...]:
    """Ports in the flat plate, each in the middle of an equal share of its lower edge."""
    width, height = given.size_m
    foot = side.ruled.flat[:, 0]
    run = np.r_[0.0, np.cumsum(np.hypot(*np.diff(foot, axis=0).T))]
    share = float(run[-1]) / given.count
    if width > share - 2.0 * STEEL_AROUND:
        sentence = (
            f"{given.count} ports {width:.2f} m wide do not fit side by side: make them at "
            f"most {_down(share - 2.0 * STEEL_AROUND)} m each, or use fewer."
        )
        raise ModelError("ports-too-wide", sentence, "freeing_ports.size_m")
    largest = min(width, height) / 2.0
    if given.corner_radius_m > largest:
        sentence = (
            f"Corner radius {given.corner_radius_m:.2f} m is too large: at most "
            f"{largest:.3f} m here."
        )
        raise ModelError("corner-radius-too-large", sentence, "freeing_ports.corner_radius_m")
    return tuple(
        _port(side, run, share * (k + 0.5), given, float(run[-1])) for k in range(given.count)
    )


def _port(
    side: Strip, run: FloatArray, at: float, given: FreeingPorts, length: float
) -> FlatOutline:
    """One port, square to the lower edge at a length along it [m]."""
    width, height = given.size_m
    flat = side.ruled.flat
    ends = [
        np.array([np.interp(place, run, flat[:, 0, k]) for k in (0, 1)])
        for place in (max(at - width / 2.0, 0.0), min(at + width / 2.0, length))
    ]
    middle, along = (ends[0] + ends[1]) / 2.0, ends[1] - ends[0]
    along = along / np.linalg.norm(along)
    up = np.array([-along[1], along[0]])
    over = np.array([np.interp(at, run, flat[:, 1, k]) for k in (0, 1)])
    if (over - middle) @ up < 0.0:
        up = -up
    low = given.above_deck_m
    corners = [
        middle + across * along * width / 2.0 + rise * up
        for across, rise in ((-1, low), (1, low), (1, low + height), (-1, low + height))
    ]
    room = float(((flat[:, 1] - middle) @ up)[_near(flat[:, 1] - middle, along, width)].min())
    if low + height > room - STEEL_AROUND:
        sentence = (
            f"Ports {height:.2f} m high, {low:.2f} m above the deck, reach beyond the "
            f"bulwark: make them at most {_down(room - STEEL_AROUND - low)} m high."
        )
        raise ModelError("port-outside-bulwark", sentence, "freeing_ports.size_m")
    rows = [(float(x), float(y)) for x, y in corners]
    return FlatOutline.rounded(rows, [given.corner_radius_m] * 4)


def _near(away: FloatArray, along: FloatArray, width: float) -> FloatArray:
    """(n,) which points of the upper edge lie over a port, the nearest at least."""
    beside = np.abs(away @ along)
    return np.asarray(beside <= max(width, float(beside.min()) + 1e-9))


def _down(length: float) -> str:
    """A length [m] in words, rounded down to the centimetre so that it does fit."""
    return f"{max(floor(length * 100.0), 0) / 100.0:.2f}"
