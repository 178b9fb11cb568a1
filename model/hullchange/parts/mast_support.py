"""What carries a mast on a roof: pad on the roof, post below, floor under the post."""

import numpy as np

from hullchange.errors import ModelError
from hullchange.geometry.developable import Cone
from hullchange.geometry.frame import FloatArray, Frame
from hullchange.geometry.host import Host
from hullchange.geometry.outline import Outline, within
from hullchange.geometry.plate import Planar, Plate
from hullchange.parts.parameters import MastSupport
from hullchange.parts.part import Part, Site
from hullchange.parts.steelwork import AFT, STARBOARD, UP, curve, loop, plate, relieved
from hullchange.units import m_of_mm

LEAST_POST = 0.05  # [m]


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
    head = _crown(roof.offset(-thickness / 2.0), given.x_m)[0]
    post = _post(given, foot_z, float(head[2]))
    plates = (pad, post, floor)
    return Part(given.kind, plates, side_view=_side_view(plates))


def _roof_of(site: Site) -> tuple[Cone, Part]:
    stand = site.stand
    if stand is None or not isinstance(stand.roof, Cone):
        sentence = (
            "A mast support stands on a roof: name a deckhouse of this boat as its stand."
        )
        raise ModelError("nothing-to-stand-on", sentence, "stand")
    return stand.roof, stand


def _crown(roof: Cone, x: float) -> tuple[FloatArray, float]:
    """Point (3,) of the crown at x, and its distance along the crown's ruling."""
    feet, ways = roof.rulings(np.zeros(1))
    along = float((x - feet[0, 0]) / ways[0, 0])
    return np.asarray(feet[0] + along * ways[0]), along


def _pad(given: MastSupport, roof: Cone, thickness: float) -> tuple[Plate, float]:
    """The pad, touching the crown, and where its middle lies along the crown."""
    length, width, height = (m_of_mm(size) for size in given.pad_mm)
    _, ways = roof.rulings(np.zeros(1))
    point, along = _crown(roof, given.x_m)
    up = np.cross(ways[0], STARBOARD)
    middle = point + up * (thickness + height) / 2.0
    frame = Frame(middle, ways[0], STARBOARD)
    outer = Outline.rectangle((-length / 2.0, -width / 2.0), (length / 2.0, width / 2.0))
    return plate("pad", frame, outer, given.pad_mm[2]), along


def _require_on_roof(given: MastSupport, stand: Part, along: float) -> None:
    length, width, _ = (m_of_mm(size) for size in given.pad_mm)
    shadow = Outline.rectangle(
        (along - length / 2.0, -width / 2.0), (along + length / 2.0, width / 2.0)
    )
    plates = [one for one in stand.plates if one.map is stand.roof]
    if not any(within(one.outer, shadow) for one in plates):
        sentence = f"At x {given.x_m:.2f} m the pad does not lie wholly on the roof: move it."
        raise ModelError("pad-off-the-roof", sentence, "x_m")


def _floor(given: MastSupport, host: Host) -> tuple[Plate, float]:
    """The web athwartships, its lower edge on the bottom, and the height of its top."""
    width, height = m_of_mm(given.floor_mm[0]), m_of_mm(given.floor_mm[1])
    y = np.linspace(0.0, width / 2.0, 5)
    z = host.bottom_z(np.full(5, given.x_m), y)
    top = float(z[0]) + height
    if float(z.max()) > top - 0.005:
        sentence = "The floor's ends come above its top on this bottom: narrower or higher."
        raise ModelError("floor-runs-out", sentence, "floor_mm")
    starboard = np.stack([y, z], axis=1)
    port = starboard[::-1] * np.array([-1.0, 1.0])
    corners = np.array([[width / 2.0, top], [-width / 2.0, top]])
    outer = loop(curve(port, "bottom"), curve(starboard, "bottom"), curve(corners))
    frame = Frame(np.array([given.x_m, 0.0, 0.0]), STARBOARD, UP)
    whole = plate("floor", frame, outer, given.floor_mm[2])
    return relieved(whole, (float(y[0]), float(z[0])), given.scallop_mm), top


def _post(given: MastSupport, foot: float, head: float) -> Plate:
    diameter, wall = (m_of_mm(size) for size in given.post_mm)
    if wall >= diameter / 2.0:
        sentence = "The post's wall is thicker than its radius: a thinner wall."
        raise ModelError("post-without-bore", sentence, "post_mm")
    if head - foot < LEAST_POST:
        sentence = "The floor reaches up to the roof, so there is no post: lower the floor."
        raise ModelError("floor-above-roof", sentence, "floor_mm")
    frame = Frame(np.array([given.x_m, 0.0, (foot + head) / 2.0]), AFT, STARBOARD)
    outer, bore = (
        Outline.circle((0.0, 0.0), r) for r in (diameter / 2.0, diameter / 2.0 - wall)
    )
    return Plate(
        "post", "tube", outer, head - foot, Planar(frame), (bore,), section=(diameter, wall)
    )


def _side_view(plates: tuple[Plate, ...]) -> tuple[FloatArray, ...]:
    corners = np.array([[0, 0], [1, 0], [1, 1], [0, 1]])
    boxes = (plate.surface().bounds[:, [0, 2]] for plate in plates)
    return tuple(low + corners * (high - low) for low, high in boxes)
