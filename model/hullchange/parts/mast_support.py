"""What carries a mast on a roof: pad on the roof, post below, floor under the post.

The pad is rolled as the roof is, so that all of it lies on the roof. The post is cut square,
its head half-way between the lowest and the highest place of the roof above it.
"""

import numpy as np

from hullchange.errors import ModelError
from hullchange.findings import Finding, Severity
from hullchange.geometry.developable import Cone
from hullchange.geometry.frame import FloatArray, Frame
from hullchange.geometry.host import Host
from hullchange.geometry.outline import FlatOutline, Line, Segment, Spline, lies_within
from hullchange.geometry.plate import Planar, Plate
from hullchange.parts.on_hull import inside_bottom
from hullchange.parts.parameters import MastSupport
from hullchange.parts.part import Part, Site
from hullchange.parts.steelwork import (
    AFT,
    STARBOARD,
    UP,
    closed_outline,
    fitted_segments,
    plate,
    spline_through,
    with_scallop,
)
from hullchange.units import m_of_mm

LEAST_POST = 0.05  # [m]
ACROSS = 49  # places at which the floor's foot is looked for


def mast_support(given: MastSupport, site: Site) -> Part:
    """The support for given dimensions, under the crown of the roof it stands on.

    Raises:
        ModelError: ``nothing-to-stand-on``, ``pad-off-the-roof``, ``post-without-bore``,
            ``floor-above-roof``,
            ``floor-runs-out``.
    """
    roof, stand = _roof_of(site)
    thickness = stand.roof_thickness
    pad, along = _pad(given, roof, thickness)
    _require_on_roof(given, stand, along)
    floor, foot_z = _floor(given, site.host)
    post = _post(given, foot_z, _head(given, roof.offset(-thickness / 2.0)))
    plates = (pad, post, floor)
    findings = _on_plating(given, site.host)
    return Part(given.kind, plates, side_view=_side_view(plates), findings=findings)


def _roof_of(site: Site) -> tuple[Cone, Part]:
    stand = site.stand
    if stand is None or not isinstance(stand.roof, Cone):
        sentence = "A mast support stands on a roof: under stand name a deckhouse of this boat."
        raise ModelError("nothing-to-stand-on", sentence, "stand")
    return stand.roof, stand


def _crown(roof: Cone, x: float) -> tuple[FloatArray, float]:
    """Point (3,) of the crown at x, and its distance along the crown's ruling."""
    feet, ways = roof.rulings(np.zeros(1))
    along = float((x - feet[0, 0]) / ways[0, 0])
    return np.asarray(feet[0] + along * ways[0]), along


def _head(given: MastSupport, under: Cone) -> float:
    """Height [m] of the post's head under the roof's underside: the middle of its range."""
    radius, turn = m_of_mm(given.post_mm[0]) / 2.0, np.linspace(0.0, 2.0 * np.pi, 25)
    feet, ways = under.rulings(np.arcsin(np.clip(radius * np.sin(turn) / under.radius, -1, 1)))
    run = (given.x_m + radius * np.cos(turn) - feet[:, 0]) / ways[:, 0]
    z = feet[:, 2] + run * ways[:, 2]
    return float(z.min() + z.max()) / 2.0


def _pad(given: MastSupport, roof: Cone, thickness: float) -> tuple[Plate, float]:
    """The pad on the crown of the roof, and where its middle lies along the crown."""
    length, width, height = (m_of_mm(size) for size in given.pad_mm)
    _, along = _crown(roof, given.x_m)
    outer = FlatOutline.rectangle(
        (along - length / 2.0, -width / 2.0), (along + length / 2.0, width / 2.0)
    )
    over = roof.offset((thickness + height) / 2.0)
    return Plate("pad", "plate", outer, height, over), along


def _require_on_roof(given: MastSupport, stand: Part, along: float) -> None:
    length, width, _ = (m_of_mm(size) for size in given.pad_mm)
    shadow = FlatOutline.rectangle(
        (along - length / 2.0, -width / 2.0), (along + length / 2.0, width / 2.0)
    )
    plates = [one for one in stand.plates if one.map is stand.roof]
    if not any(lies_within(one.outer, shadow) for one in plates):
        sentence = f"At x {given.x_m:.2f} m the pad is not wholly on the roof: move it."
        raise ModelError("pad-off-the-roof", sentence, "x_m")


def _floor(given: MastSupport, host: Host) -> tuple[Plate, float]:
    """The web athwartships, its lower edge inside the bottom plating, and its top's height.

    Where the bottom rises forward or aft the face that it meets first stands on it.
    """
    width, height, thick = (m_of_mm(size) for size in given.floor_mm)
    y = np.linspace(0.0, width / 2.0, ACROSS)
    faces = [np.full(ACROSS, given.x_m + half) for half in (-thick / 2.0, thick / 2.0)]
    z = np.max([inside_bottom(host, x, y) for x in faces], axis=0)
    top = float(z[0]) + height
    if float(z.max()) > top - 0.005:
        sentence = "The bottom rises above the floor at its ends: make it narrower or higher."
        raise ModelError("floor-runs-out", sentence, "floor_mm")
    starboard = fitted_segments(np.stack([y, z], axis=1), "bottom")
    port = tuple(_on_port(edge) for edge in reversed(starboard))
    corners = Line((width / 2.0, top), (-width / 2.0, top))
    frame = Frame(np.array([given.x_m, 0.0, 0.0]), STARBOARD, UP)
    whole = plate("floor", frame, closed_outline(*port, *starboard, corners), given.floor_mm[2])
    return with_scallop(whole, starboard[0].start, given.scallop_mm), top


def _on_port(edge: Segment) -> Segment:
    """An edge of the starboard half on the other side, run the other way."""
    rows = edge.points if isinstance(edge, Spline) else (edge.start, edge.end)
    return spline_through(np.array(rows)[::-1] * np.array([-1.0, 1.0]), edge.tag)


def _on_plating(given: MastSupport, host: Host) -> tuple[Finding, ...]:
    if host.bottom_thickness(np.array([given.x_m]), np.zeros(1))[0] > 0.0:
        return ()
    sentence = (
        "The thickness of the bottom plating under the mast is not known, so the floor is cut "
        "to the measured outside: under hull.plating give bottom, or below- with the name of "
        "the next line above the keel."
    )
    return (Finding("plating-unknown", Severity.WARN, "floor_mm", sentence),)


def _post(given: MastSupport, foot: float, head: float) -> Plate:
    diameter, wall = (m_of_mm(size) for size in given.post_mm)
    if wall >= diameter / 2.0:
        sentence = "The wall of the post is thicker than its radius: make it thinner."
        raise ModelError("post-without-bore", sentence, "post_mm")
    if head - foot < LEAST_POST:
        sentence = "The floor reaches up to the roof, which leaves no post: lower the floor."
        raise ModelError("floor-above-roof", sentence, "floor_mm")
    frame = Frame(np.array([given.x_m, 0.0, (foot + head) / 2.0]), AFT, STARBOARD)
    outer, bore = (
        FlatOutline.circle((0.0, 0.0), r) for r in (diameter / 2.0, diameter / 2.0 - wall)
    )
    return Plate(
        "post", "tube", outer, head - foot, Planar(frame), (bore,), section=(diameter, wall)
    )


def _side_view(plates: tuple[Plate, ...]) -> tuple[FloatArray, ...]:
    corners = np.array([[0, 0], [1, 0], [1, 1], [0, 1]])
    boxes = (plate.surface().bounds[:, [0, 2]] for plate in plates)
    return tuple(low + corners * (high - low) for low, high in boxes)
