"""Lines traced over a drawing or photo: profile, plan and body plan joined."""

from collections import defaultdict
from dataclasses import dataclass, field
from types import MappingProxyType
from typing import Literal

import numpy as np
from scipy.interpolate import PchipInterpolator, make_smoothing_spline

from hullchange.errors import ModelError
from hullchange.geometry.frame import FloatArray
from hullchange.hull.lines import LineInput, LineKind
from hullchange.hull_sources.found import FoundLines
from hullchange.hull_sources.picture_plane import PicturePlane, picture_plane
from hullchange.hull_sources.points import in_order, is_centreline, line_kind, missing_lines
from hullchange.hull_sources.traced_sections import section_lines
from hullchange.plain_words import id_in_words
from hullchange.units import mm_of_m

ViewName = Literal["profile", "plan", "body"]
AXES = {"profile": "x aft and z up", "plan": "x aft and y out", "body": "y out and z up"}
MANY_POINTS, KEPT_POINTS = 30, 21
"""A curve traced with more points is smoothed and so many are kept."""
END_REACH = 0.03  # of the length, how far one view's end may be from the other's
SAME_STATION = 0.05  # [m]
SECTION = "section"  # what a curve across the hull is called


@dataclass(frozen=True, eq=False)
class TracedCurve:
    """A curve picked on a picture.

    Attributes:
        line: its name.
        pixels: (n, 2) [px].
        kind: fair, chine or sheer; by its name if None.
        station: x [m] of a body plan's section that these points of the line are on.
    """

    line: str
    pixels: FloatArray
    kind: LineKind | None = None
    station: float | None = None


@dataclass(frozen=True, eq=False)
class TracedView:
    """One view on a picture.

    Attributes:
        view: profile (x, z), plan (x, y) or body plan (y, z).
        mark_pixels: (n, 2) [px] of the marks.
        mark_places: (n, 2) [m] of the marks, in the view's axes.
        is_flat: whether the page lay flat in a scanner, or comes from a PDF.
        curves: traced on it.
    """

    view: ViewName
    mark_pixels: FloatArray
    mark_places: FloatArray
    is_flat: bool
    curves: tuple[TracedCurve, ...]


@dataclass
class _Traces:
    """A line as the views show it: (n, 2) [m] of profile and plan, (n, 3) of the body plan."""

    kind: LineKind
    profile: FloatArray | None = None
    plan: FloatArray | None = None
    body: list[FloatArray] = field(default_factory=list)


def lines_of_drawing(views: tuple[TracedView, ...]) -> FoundLines:
    """Lines of the views together; where two show the same, the body plan counts.

    A round hull's body plan is traced as sections, each a curve called ``section`` with its
    station: they give lines at equal girth between the centreline and the sheer.

    Raises:
        ModelError: ``nothing-traced``, ``station-missing``; those of ``picture_plane``, placed
            at the view.
    """
    traces: dict[str, _Traces] = {}
    errors, offs = [], []
    for view in views:
        plane = _plane_of(view)
        offs.append(_rms(plane.off.tolist()))
        for curve in view.curves:
            errors.append(plane.errors(curve.pixels))
            _take(view.view, curve, plane, traces)
    if not traces:
        sentence = "Nothing is traced yet: pick points along the sheer, chines and keel."
        raise ModelError("nothing-traced", sentence)
    missing, lines = [], []
    sections = traces.pop(SECTION, None)
    for name, trace in traces.items():
        points, wanted = _joined(name, trace)
        missing += wanted
        if len(points):
            rows = tuple((float(x), float(y), float(z)) for x, y, z in points)
            lines.append(LineInput(name, trace.kind, rows))
    if sections is not None:
        more, wanted = section_lines(sections.body, in_order(tuple(lines)))
        lines, missing = [*lines, *more], [*missing, *wanted]
    every = np.concatenate(errors)
    usual = _rms(every.tolist())
    worth = (
        f"Traced points are accurate to ±{mm_of_m(usual):.0f} mm, the worst to "
        f"±{mm_of_m(float(every.max())):.0f} mm, if the drawing is right; the marks are off "
        f"by {mm_of_m(max(offs)):.0f} mm."
    )
    ordered = in_order(tuple(lines))
    return FoundLines(
        "drawing",
        ordered,
        usual,
        worth,
        MappingProxyType({line.name: np.full(len(line.points), usual) for line in ordered}),
        tuple(_agreement(traces)),
        (*missing, *missing_lines(ordered)),
    )


def _plane_of(view: TracedView) -> PicturePlane:
    try:
        return picture_plane(view.mark_pixels, view.mark_places, is_flat=view.is_flat)
    except ModelError as error:
        sentence = f"{view.view.capitalize()}: {error.sentence}"
        raise ModelError(error.code, sentence, view.view) from error


def _take(
    view: ViewName, curve: TracedCurve, plane: PicturePlane, traces: dict[str, _Traces]
) -> None:
    places = plane.placed(curve.pixels)
    kind = curve.kind or line_kind(curve.line)
    trace = traces.setdefault(curve.line, _Traces(kind))
    if view == "body":
        if curve.station is None:
            sentence = f"At which station is the section of line {curve.line}? Give its x."
            raise ModelError("station-missing", sentence, view)
        half = np.abs(places[:, 0])
        at = np.full(len(places), curve.station)
        trace.body.append(np.column_stack([at, half, places[:, 1]]))
        return
    ordered = places[np.argsort(places[:, 0], kind="stable")]
    if view == "plan":
        ordered[:, 1] = np.abs(ordered[:, 1])
    smooth = _smoothed(ordered, plane.pick_sd * plane.scale)
    if view == "plan":
        trace.plan = smooth
    else:
        trace.profile = smooth


def _smoothed(places: FloatArray, sd: float) -> FloatArray:
    """Points (n, 2) of a curve, fewer and without the shake of the hand where there are many.

    Args:
        places: (m, 2) [m], the first of them rising.
        sd: [m] of a pick.
    """
    keep = np.r_[True, np.diff(places[:, 0]) > max(1e-3, sd / 2.0)]
    places = places[keep]
    if len(places) <= MANY_POINTS:
        return places
    x, value = places.T
    curve = make_smoothing_spline(x, value)
    even = np.linspace(0.0, 1.0, KEPT_POINTS)
    at = x[0] + (x[-1] - x[0]) * (0.5 * even + 0.25 * (1.0 - np.cos(np.pi * even)))
    return np.column_stack([at, curve(at)])


def _joined(name: str, trace: _Traces) -> tuple[FloatArray, list[str]]:
    """Points (n, 3) [m] of a line by its views, and what is wanted besides."""
    body = np.vstack(trace.body) if trace.body else np.empty((0, 3))
    body = body[np.argsort(body[:, 0])]
    if is_centreline(name) and trace.profile is not None:
        x, z = trace.profile.T
        return np.column_stack([x, np.zeros_like(x), z]), []
    if trace.profile is None or trace.plan is None:
        lacking = "plan" if trace.profile is not None else "profile"
        known = trace.profile is not None or trace.plan is not None
        if len(body) >= 2 and not known:
            return body, []
        sentence = f"Trace line {id_in_words(name)} in the {lacking} too: {AXES[lacking]}."
        return body, [sentence]
    across = _both(trace.profile, trace.plan)
    if len(body):
        near = np.abs(across[:, :1] - body[:, 0]).min(axis=1) < SAME_STATION
        within = (across[:, 0] > body[0, 0]) & (across[:, 0] < body[-1, 0])
        across = np.vstack([across[~near & ~within], body])
        across = across[np.argsort(across[:, 0])]
    return across, _gaps(name, trace.profile[:, 0], trace.plan[:, 0])


def _gaps(name: str, profile: FloatArray, plan: FloatArray) -> list[str]:
    """Where a line ends elsewhere in the plan than in the profile, by x (n,) [m] of both."""
    reach = END_REACH * float(min(profile[-1], plan[-1]) - max(profile[0], plan[0]))
    return [
        f"Line {id_in_words(name)} ends at x {a:.2f} m in the profile and at {b:.2f} m in the "
        "plan: is an end missing?"
        for a, b in ((profile[0], plan[0]), (profile[-1], plan[-1]))
        if abs(a - b) > reach
    ]


def _both(profile: FloatArray, plan: FloatArray) -> FloatArray:
    """(n, 3) [m] points where the view with more points has them, the other read between.

    Their ends are the same points of the boat: the plan is stretched to the profile's.
    """
    start, end = profile[0, 0], profile[-1, 0]
    reach = END_REACH * (end - start)
    near = abs(plan[0, 0] - start) < reach and abs(plan[-1, 0] - end) < reach
    # ends to the last bit: a point past one would be lost
    along = np.interp(plan[:, 0], plan[[0, -1], 0], (start, end)) if near else plan[:, 0]
    x = along if len(plan) > len(profile) else profile[:, 0]
    low, high = max(start, along[0]), min(end, along[-1])
    x = x[(x >= low) & (x <= high)]
    heights = _between(profile[:, 0], profile[:, 1])(x)
    return np.column_stack([x, np.maximum(_between(along, plan[:, 1])(x), 0.0), heights])


def _between(x: FloatArray, value: FloatArray) -> PchipInterpolator:
    return PchipInterpolator(x, value)


def _agreement(traces: dict[str, _Traces]) -> list[str]:
    """How far the views agree where they show the same points."""
    gaps: dict[str, list[float]] = defaultdict(list)
    for trace in traces.values():
        for x, y, z in (row for rows in trace.body for row in rows):
            for view, value, shown in (("profile", z, trace.profile), ("plan", y, trace.plan)):
                if shown is not None and len(shown) > 1 and shown[0, 0] <= x <= shown[-1, 0]:
                    gaps[view].append(float(_between(*shown.T)(x)) - value)
    return [
        f"Body plan and {view} agree within {mm_of_m(_rms(g)):.0f} mm, the worst "
        f"{mm_of_m(float(np.abs(g).max())):.0f} mm."
        for view, g in gaps.items()
    ]


def _rms(values: list[float]) -> float:
    return float(np.sqrt(np.mean(np.square(values))))
