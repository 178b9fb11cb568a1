"""Keel, skeg and rudder: closed bodies reaching well into the hull, cut to it once.

One off the centreline is made on it, moved, turned, and mirrored where it is a pair.
"""

from dataclasses import dataclass
from math import radians
from typing import Literal

import numpy as np

from hullchange.errors import DocumentError, Fault
from hullchange.geometry.frame import FloatArray
from hullchange.geometry.surface import Surface, difference, joined
from hullchange.hull.appendage_outline import (
    AppendageOutline,
    crossing_fault,
    outline_faults,
    outline_of,
    outline_place,
)
from hullchange.hull.appendage_place import AppendagePlane
from hullchange.hull.lines import Lines
from hullchange.hull.mesh import symmetric_body
from hullchange.plain_words import id_in_words
from hullchange.units import mm_of_m

NOSE_POINTS = 16  # along a quarter of an ellipse: its area comes out 0.2 % small
ROW_HEIGHT = 0.15  # [m] between rows of vertices
INTO_HULL = 0.25  # share of the depth of hull above the appendage that it reaches into
SAMPLES = 101


@dataclass(frozen=True)
class AppendageInput:
    """An appendage as the owner gives it.

    Attributes:
        name: key in the document.
        outline: (x, z) [m] of the side view; its two open ends are carried straight up into the
            canoe body, and end where they are when they lie ahead of it or behind it.
        half_thickness: [m], constant, or a table of (fraction of the local horizontal chord
            from forward, half thickness).
        nose: ``ellipse`` rounds the first interval of the table, ``square`` leaves it.
        at_y: half-breadth of its middle [m] at the upper end of the outline, to starboard.
        cant: its lower end leans outwards by [deg]; to starboard where it is on the centreline.
        pair: whether there is a second one, mirrored.
    """

    name: str
    outline: tuple[tuple[float, float], ...]
    half_thickness: float | tuple[tuple[float, float], ...]
    nose: Literal["ellipse", "square"] = "square"
    at_y: float = 0.0
    cant: float = 0.0
    pair: bool = False

    @property
    def plane(self) -> AppendagePlane:
        """The middle plane it stands in; of a pair that of the first."""
        root = max(self.outline[0][1], self.outline[-1][1])
        outwards = -1.0 if self.at_y < 0.0 else 1.0
        return AppendagePlane(self.at_y, root, outwards * radians(self.cant))


@dataclass(frozen=True, eq=False)
class Appendage:
    """An appendage cut to the hull.

    Attributes:
        name: key in the document.
        surface: closed; what of it lies outside the canoe body and earlier appendages; both
            bodies of a pair.
        side_view: (n, 2) closed outline of x and z [m] of what shows below the hull.
        plane: the middle plane it stands in; of a pair that of the first.
        pair: whether there is a second one, mirrored.
        outline: its side view, carried up into the hull, before it is turned.
        table: (m, 2) fraction of the chord and half thickness [m].
    """

    name: str
    surface: Surface
    side_view: FloatArray
    plane: AppendagePlane
    pair: bool
    outline: AppendageOutline
    table: FloatArray

    @property
    def end_view(self) -> FloatArray:
        """(2, 3) highest and lowest point of the first one's side view, in its plane [m]."""
        view = self.side_view
        ends = view[[np.argmax(view[:, 1]), np.argmin(view[:, 1])]]
        return np.insert(ends, 1, self.plane.y_at(ends[:, 1]), axis=1)


def appendages_of(
    given: tuple[AppendageInput, ...], lines: Lines, hull: Surface
) -> tuple[Appendage, ...]:
    """The appendages, each less the hull and less those before it.

    Args:
        given: in the order in which they cut one another.
        lines: of the canoe body.
        hull: the canoe body.

    Raises:
        DocumentError: with every fault (``outline-too-short``, ``outline-crosses-itself``,
            ``outline-doubles-back``, ``outline-above-hull``, ``outline-inside-hull``,
            ``outline-beside-hull``, ``thickness-negative``, ``thickness-not-increasing``,
            ``nose-needs-table``, ``pair-on-centreline``).
    """
    faults = [
        fault
        for one in given
        for fault in (
            *outline_faults(one.name, one.outline),
            *_thickness_faults(one),
            *_pair_faults(one),
        )
    ]
    if faults:
        raise DocumentError(tuple(faults))
    outlines = [_carried_up(one, lines) for one in given]
    faults = [
        fault
        for one, outline in zip(given, outlines, strict=True)
        for fault in _place_faults(outline, one, lines)
    ]
    if faults:
        raise DocumentError(tuple(faults))
    done: list[Appendage] = []
    for one, outline in zip(given, outlines, strict=True):
        plane, table = one.plane, thickness_table(one)
        body = plane.placed(uncut_body(outline, table))
        halves = [_cut(half, hull, done) for half in (body, body.mirrored())[: 1 + one.pair]]
        if not all(len(half.faces) for half in halves):
            raise DocumentError((_inside_hull(one),))
        if one.pair and halves[0].bounds[0, 1] < 0.0:
            raise DocumentError((_on_centreline(one, -float(halves[0].bounds[0, 1])),))
        surface = joined(tuple(halves)) if one.pair else halves[0]
        view = _side_view(outline, lines, plane)
        done.append(Appendage(one.name, surface, view, plane, one.pair, outline, table))
    return tuple(done)


def _cut(body: Surface, hull: Surface, earlier: list[Appendage]) -> Surface:
    """What of a body lies outside the hull and the appendages before it."""
    for other in (hull, *(appendage.surface for appendage in earlier)):
        if len(body.faces):
            body = difference(body, other)
    return body


def thickness_table(given: AppendageInput) -> FloatArray:
    """(n, 2) fractions of the chord and half thicknesses [m], the nose drawn out."""
    table = _table(given)
    if given.nose == "square":
        return table
    (start, first), (end, second) = table[:2]
    angle = np.linspace(0.0, np.pi / 2.0, NOSE_POINTS + 1)
    nose = np.column_stack(
        [end - (end - start) * np.cos(angle), first + (second - first) * np.sin(angle)]
    )
    return np.concatenate([nose, table[2:]])


def uncut_body(outline: AppendageOutline, table: FloatArray) -> Surface:
    """The closed body of an outline before it is cut.

    Args:
        outline: the side view, closed level at its top.
        table: (n, 2) fraction of the chord and half thickness [m].
    """
    rows = []
    for below, above in outline.bands():
        steps = max(1, round((above[2] - below[2]) / ROW_HEIGHT))
        rows.append(below + np.linspace(0.0, 1.0, steps + 1)[:, None] * (above - below))
    fore, aft, z = np.concatenate(rows).T
    fraction, half = table.T
    x = fore + fraction[:, None] * (aft - fore)
    grid = np.stack(np.broadcast_arrays(x, half[:, None], z), axis=-1)
    return symmetric_body(grid).surface


def _table(given: AppendageInput) -> FloatArray:
    if isinstance(given.half_thickness, tuple):
        return np.array(given.half_thickness, dtype=np.float64)
    return np.array([[0.0, given.half_thickness], [1.0, given.half_thickness]])


def _thickness_faults(given: AppendageInput) -> list[Fault]:
    place = f"appendages.{given.name}.half_thickness_m"
    table = _table(given)
    faults = []
    if table.min() < 0.0 or table[:, 1].max() == 0.0:
        sentence = (
            f"The half thickness of {id_in_words(given.name)} must be more than 0: it is half "
            "of what is measured across."
        )
        faults.append(Fault("thickness-negative", place, sentence))
    rises = len(table) > 1 and bool(np.all(np.diff(table[:, 0]) > 0.0))
    if not rises or table[0, 0] != 0.0 or table[-1, 0] != 1.0:
        sentence = (
            f"The half thickness of {id_in_words(given.name)} must have fractions of the "
            "chord that rise from 0 at the leading edge to 1 at the trailing edge: put its "
            "rows in order."
        )
        faults.append(Fault("thickness-not-increasing", place, sentence))
    if given.nose == "ellipse" and not isinstance(given.half_thickness, tuple):
        sentence = (
            f"The nose of {id_in_words(given.name)} is rounded over the first interval of a "
            "table of half thicknesses, but one thickness is given: give a table, or nose: "
            "square."
        )
        faults.append(Fault("nose-needs-table", f"appendages.{given.name}.nose", sentence))
    return faults


def _pair_faults(given: AppendageInput) -> list[Fault]:
    return [_on_centreline(given, 0.0)] if given.pair and given.at_y <= 0.0 else []


def _on_centreline(given: AppendageInput, over: float) -> Fault:
    reach = f" reaches {mm_of_m(over):.0f} mm over the centreline" if over else ""
    sentence = (
        f"The pair {id_in_words(given.name)}{reach or ' stands on the centreline'}, so the "
        "two overlap: make at_y_m, the half-breadth of the starboard one, large enough."
    )
    return Fault("pair-on-centreline", f"appendages.{given.name}.at_y_m", sentence)


def _carried_up(given: AppendageInput, lines: Lines) -> AppendageOutline:
    """The outline with its ends carried up to a level well inside the canoe body.

    With an end ahead of the hull or behind it the body ends level at the height of that end.
    """
    points = np.array(given.outline, dtype=np.float64)
    x = np.linspace(points[:, 0].min(), points[:, 0].max(), SAMPLES)
    fraction = (x - x[0]) / (x[-1] - x[0])
    within = (x >= lines.fore_x.min()) & (x <= lines.aft_x.max())
    table = thickness_table(given)
    ends = points[[0, -1]]
    beyond = (ends[:, 0] < lines.fore_x.min()) | (ends[:, 0] > lines.aft_x.max())
    if beyond.any():
        return outline_of(points, float(ends[beyond, 1].min()))
    half = np.interp(fraction[within], table[:, 0], table[:, 1])
    plane = given.plane
    bottom = float(plane.bottom(lines, x[within], half).max())
    edge = float(lines.sheer.at(x)[:, 1].min())
    top = plane.along(bottom + INTO_HULL * (edge - bottom), float(half.max()))
    return outline_of(points, max(top, *ends[:, 1]))


def _place_faults(
    outline: AppendageOutline, given: AppendageInput, lines: Lines
) -> list[Fault]:
    """Faults of an outline on its hull."""
    bands = outline.bands()
    if not bands:
        return [_inside_hull(given)]
    if any(fore > aft for band in bands for fore, aft, _ in band):
        return [crossing_fault(given.name)]
    x = np.linspace(outline.fore[:, 0].min(), outline.aft[:, 0].max(), SAMPLES)
    edge = float(lines.sheer.at(x)[:, 1].min())
    if x[0] < lines.fore_x.min() or x[-1] > lines.aft_x.max():
        return []
    half = np.full(len(x), thickness_table(given)[:, 1].max())
    out = 0.0 if given.plane.is_amidships else given.plane.beside(lines, x, half)
    if out > 0.0:
        sentence = (
            f"{id_in_words(given.name).capitalize()} stands up to {mm_of_m(out):.0f} mm "
            "outside the canoe body: make at_y_m smaller or the outline shorter."
        )
        return [Fault("outline-beside-hull", f"appendages.{given.name}.at_y_m", sentence)]
    top = float(given.plane.height(np.array(outline.top)))
    if top < edge:
        return []
    sentence = (
        f"The outline of {id_in_words(given.name)} rises to z {top:.2f} m, above the deck "
        f"edge at {edge:.2f} m: end it inside the canoe body."
    )
    return [Fault("outline-above-hull", outline_place(given.name), sentence)]


def _inside_hull(given: AppendageInput) -> Fault:
    sentence = (
        f"{id_in_words(given.name).capitalize()} lies wholly inside the canoe body: check the "
        "heights of its outline (z is up from the design waterline)."
    )
    return Fault("outline-inside-hull", outline_place(given.name), sentence)


def _side_view(outline: AppendageOutline, lines: Lines, plane: AppendagePlane) -> FloatArray:
    """(n, 2) closed outline of what lies below the canoe body's bottom in its plane."""
    path = outline.path(SAMPLES)
    path[:, 1] = plane.height(path[:, 1])
    keel = lines.centreline

    def bottom_at(x: FloatArray) -> FloatArray:
        if plane.is_amidships:
            return np.asarray(keel.at(x)[:, 1])
        return plane.bottom(lines, np.clip(x, lines.fore_x.min(), lines.aft_x.max()), 0.0)

    bottom = bottom_at(path[:, 0])
    beyond = (path[:, 0] < keel.fore_x) | (path[:, 0] > keel.aft_x)
    depth = np.where(beyond, np.inf, bottom - path[:, 1])
    first, last = np.flatnonzero(depth > 0.0)[[0, -1]]
    below = [path[first : last + 1]]
    if first > 0:
        below.insert(0, _at_bottom(path, depth, first - 1))
    if last < len(path) - 1:
        below.append(_at_bottom(path, depth, last))
    shown = np.concatenate(below)
    x = np.linspace(shown[-1, 0], shown[0, 0], SAMPLES)[1:]
    top = np.where(x > keel.aft_x, shown[-1, 1], bottom_at(x))
    return np.concatenate([shown, np.column_stack([x, top])[:-1], shown[:1]])


def _at_bottom(path: FloatArray, depth: FloatArray, leg: int) -> FloatArray:
    """(1, 2) where a leg of the path passes through the bottom, or its end beyond the hull."""
    before, after = depth[leg], depth[leg + 1]
    if np.isinf(before) or np.isinf(after):
        return path[leg : leg + 1]
    share = before / (before - after)
    return np.array([path[leg] + share * (path[leg + 1] - path[leg])])
