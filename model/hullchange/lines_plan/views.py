"""The three views: profile, body plan and half-breadths, with their grids and words."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace

import numpy as np

from hullchange.geometry.frame import FloatArray
from hullchange.lines_plan.layout import PlanView, SheetLayout
from hullchange.lines_plan.lengths import LengthStyle
from hullchange.lines_plan.plan import INTERVALS, CurveRole, LinesPlan, PlanCurve
from hullchange.lines_plan.sheet import (
    CELL,
    Ink,
    Label,
    PlanLayer,
    Stroke,
    beside,
    dense,
    fitted,
    spread,
)

LAYER_OF: dict[CurveRole, PlanLayer] = {
    "station": "STATIONS",
    "waterline": "WATERLINES",
    "buttock": "BUTTOCKS",
    "chine": "CHINES",
    "fair": "FAIR",
    "sheer": "SHEER",
    "centreline": "CENTRELINE",
    "deck": "DECK",
    "end": "ENDS",
    "appendage": "APPENDAGES",
}
IN_PROFILE: tuple[CurveRole, ...] = (
    *("buttock", "fair", "deck", "chine", "end", "centreline", "sheer"),
)
IN_BREADTHS: tuple[CurveRole, ...] = ("waterline", "fair", "chine", "end", "sheer")
CROSS = 0.45
"""Arm of the cross of a point as read, in sizes of letters."""
TITLES, LEVELS, STATIONS, NAMES = 0, 1, 2, 4
"""What stays first where words would overlap."""


@dataclass(frozen=True, eq=False)
class OnSheet:
    """Strokes and labels of a sheet."""

    strokes: tuple[Stroke, ...] = ()
    labels: tuple[Label, ...] = ()

    def with_(self, *others: "OnSheet") -> "OnSheet":
        """All of them as one."""
        every = (self, *others)
        return OnSheet(
            tuple(stroke for one in every for stroke in one.strokes),
            tuple(label for one in every for label in one.labels),
        )


def views_of(plan: LinesPlan, layout: SheetLayout) -> OnSheet:
    """All three views."""
    return _profile(plan, layout).with_(_body(plan, layout), _breadths(plan, layout))


def _profile(plan: LinesPlan, layout: SheetLayout) -> OnSheet:
    view, letters = layout.profile, layout.letters
    curves = [_stroke(view, c, c.points[:, [0, 2]]) for c in plan.of_role(*IN_PROFILE)]
    sides = [
        Stroke("APPENDAGES", view.on_paper(outline), closed=True)
        for outline in plan.side_views.values()
    ]
    points = np.array([point.at for point in plan.readings])[:, [0, 2]]
    marks = _marks(plan, layout)
    grid = OnSheet(
        (*_uprights(view, _station_x(plan)), *_levels(view, plan.waterlines)),
        (
            *_level_labels(view, plan.waterlines, letters, plan.lengths),
            *_station_labels(plan, view, letters),
        ),
    )
    title = _title(view, "Profile", letters)
    done = grid.with_(
        OnSheet((*sides, *curves, *_crosses(view, points, letters)), (title,)), marks
    )
    named = [
        *((c, plan.lengths.level(c.at)) for c in plan.of_role("buttock")),
        *((c, c.name.replace("-", " ")) for c in plan.of_role("chine", "fair", "sheer")),
    ]
    return done.with_(_named(view, [(c.points[:, [0, 2]], n) for c, n in named], done, letters))


def _breadths(plan: LinesPlan, layout: SheetLayout) -> OnSheet:
    view, letters = layout.breadths, layout.letters
    curves = [_stroke(view, c, c.points[:, :2]) for c in plan.of_role(*IN_BREADTHS)]
    middle = np.array([[layout.extent.fore, 0.0], [layout.extent.aft, 0.0]])
    points = np.array([point.at for point in plan.readings])[:, :2]
    off_middle = points[points[:, 1] > 0.0]
    labels = (
        *_level_labels(view, plan.buttocks, letters, plan.lengths),
        Label("CL", (view.low_mm[0] - letters, view.low_mm[1] - 0.3 * letters), letters, 1.0),
        *_station_labels(plan, view, letters),
        _title(view, "Plan: half-breadths to starboard", letters),
    )
    done = OnSheet(
        (
            *_uprights(view, _station_x(plan)),
            *_levels(view, plan.buttocks),
            Stroke("AXES", view.on_paper(middle)),
            *curves,
            *_crosses(view, off_middle, letters),
        ),
        labels,
    )
    named = [
        *(
            (c, f"WL {plan.lengths.level(c.at)}" if c.at else "DWL")
            for c in plan.of_role("waterline")
        ),
        *((c, c.name.replace("-", " ")) for c in plan.of_role("chine", "sheer")),
    ]
    return done.with_(_named(view, [(c.points[:, :2], n) for c, n in named], done, letters))


def _body(plan: LinesPlan, layout: SheetLayout) -> OnSheet:
    """Sections of the fore body to starboard, of the after body to port."""
    view, letters = layout.body, layout.letters
    middle = plan.length_waterline / 2.0
    strokes: list[Stroke] = []
    for curve in plan.of_role("appendage", "station"):
        for side in _sides(curve.at, middle):
            strokes.append(_stroke(view, curve, curve.points[:, 1:] * np.array([side, 1.0])))
    for curve in plan.of_role("fair", "chine", "sheer", "end"):
        for side, half in _halves(curve, middle):
            strokes.append(_stroke(view, curve, half * np.array([side, 1.0])))
    points = np.array([(-y if x > middle else y, z) for x, y, z in _at(plan)])
    bounds = np.array([[0.0, layout.extent.low], [0.0, layout.extent.high]])
    breadths = [side * b for b in plan.buttocks for side in (-1.0, 1.0)]
    grid = (
        *_uprights(view, breadths),
        *_levels(view, plan.waterlines),
        Stroke("AXES", view.on_paper(bounds)),
    )
    below = view.low_mm[1] - 1.4 * letters
    labels = [
        *_level_labels(view, plan.waterlines, letters, plan.lengths),
        _title(view, "Body plan", letters),
        *(
            Label(plan.lengths.level(abs(y)), (_x(view, y), below), letters, 0.5, rank=LEVELS)
            for y in breadths
        ),
        Label("CL", (_x(view, 0.0), below), letters, 0.5, rank=TITLES),
    ]
    halves = (("after body", 0.0, view.low_mm[0]), ("fore body", 1.0, view.high_mm[0]))
    for words, across, x in halves:
        labels.append(Label(words, (x, below - 1.5 * letters), letters, across, rank=STATIONS))
    drawn = OnSheet((*grid, *strokes, *_crosses(view, points, letters)), tuple(labels))
    return drawn.with_(*(_section_names(plan, layout, side) for side in (-1.0, 1.0)))


def _at(plan: LinesPlan) -> Iterator[tuple[float, float, float]]:
    """The points as read that are not in the middle."""
    return (point.at for point in plan.readings if point.at[1] > 0.0)


def _sides(x: float, middle: float) -> tuple[float, ...]:
    """Where a section is shown: 1 to starboard, -1 to port; the middle one on both."""
    if abs(x - middle) < 1e-9:
        return (1.0, -1.0)
    return (1.0,) if x < middle else (-1.0,)


def _halves(curve: PlanCurve, middle: float) -> Iterator[tuple[float, FloatArray]]:
    """What lies ahead of the middle, and what behind; each with the point at the middle."""
    x = curve.points[:, 0]
    if curve.role == "end":
        yield (1.0 if curve.name == "stem" else -1.0), curve.points[:, 1:]
        return
    at_middle = np.array([[np.interp(middle, x, curve.points[:, k]) for k in (1, 2)]])
    if x[0] < middle:
        yield 1.0, np.concatenate([curve.points[x < middle, 1:], at_middle])
    if x[-1] > middle:
        yield -1.0, np.concatenate([at_middle, curve.points[x > middle, 1:]])


def _section_names(plan: LinesPlan, layout: SheetLayout, side: float) -> OnSheet:
    """Numbers of the stations above the sheer, each with a line to its section."""
    view, letters = layout.body, layout.letters
    middle = plan.length_waterline / 2.0
    shown = [c for c in plan.of_role("station") if side in _sides(c.at, middle)]
    tops = [(abs(float(c.points[-1, 1])), float(c.points[-1, 2]), c.name) for c in shown]
    return _lane(
        view,
        letters,
        [(side * _of_paper(view, y), view.on_paper(np.array([[side * y, z]]))[0], name)
         for y, z, name in sorted(tops)],
        side,
    )  # fmt: skip


def _of_paper(view: PlanView, length: float) -> float:
    return length * view.per_m


def _lane(
    view: PlanView, letters: float, rows: list[tuple[float, FloatArray, str]], side: float
) -> OnSheet:
    """Names side by side above the body plan, outwards from the centreline."""
    wanted = [abs(x) for x, _, _ in rows]
    widths = [Label(name, (0.0, 0.0), letters).width + 0.7 * letters for _, _, name in rows]
    reach = (view.high_mm[0] - view.low_mm[0]) / 2.0
    at = spread(wanted, widths, 0.4 * letters, reach)
    base = view.high_mm[1] + 3.4 * letters
    strokes, labels = [], []
    for x, (_, top, name) in zip(at, rows, strict=True):
        foot = view.origin_mm[0] + side * x
        path = np.array([top, [foot, base - 1.2 * letters], [foot, base - 0.4 * letters]])
        strokes.append(Stroke("GRID", path))
        labels.append(Label(name, (foot, base), letters, 0.5, rank=STATIONS))
    return OnSheet(tuple(strokes), tuple(labels))


def _marks(plan: LinesPlan, layout: SheetLayout) -> OnSheet:
    """Freeboard marks: a triangle at the sheer, and the name above."""
    view, letters = layout.profile, layout.letters
    rows = sorted((x, z, name.replace("-", " ")) for name, (x, z) in plan.marks.items())
    names = [Label(name, (0.0, 0.0), letters, 0.5, rank=NAMES) for _, _, name in rows]
    room = view.high_mm[0] - view.low_mm[0]
    if sum(name.width + letters for name in names) > room:
        names = [fitted(name, room / len(names) - letters) for name in names]
    widths = [name.width + letters for name in names]
    wanted = [_x(view, x) for x, _, _ in rows]
    at = spread(wanted, widths, view.low_mm[0], view.high_mm[0])
    base = view.high_mm[1] + 3.4 * letters
    strokes, labels = [], []
    for x, (along, z, _), name in zip(at, rows, names, strict=True):
        tip = view.on_paper(np.array([[along, z]]))[0]
        arms = np.array([[0.0, 0.0], [-0.5, 0.9], [0.5, 0.9]]) * letters
        strokes.append(Stroke("MARKS", tip + arms, closed=True))
        start = tip + np.array([0.0, 0.9 * letters])
        path = np.array([start, [x, base - 1.2 * letters], [x, base - 0.4 * letters]])
        strokes.append(Stroke("MARKS", path))
        labels.append(replace(name, at=(x, base)))
    return OnSheet(tuple(strokes), tuple(labels))


def _stroke(view: PlanView, curve: PlanCurve, points: FloatArray) -> Stroke:
    is_water = curve.role == "waterline" and curve.at == 0.0
    return Stroke("DWL" if is_water else LAYER_OF[curve.role], view.on_paper(points))


def _x(view: PlanView, x: float) -> float:
    return view.origin_mm[0] + x * view.per_m


def _y(view: PlanView, y: float) -> float:
    return view.origin_mm[1] + y * view.per_m


def _station_x(plan: LinesPlan) -> list[float]:
    return [station.x for station in plan.stations]


def _uprights(view: PlanView, xs: Iterable[float]) -> Iterator[Stroke]:
    (_, low), (_, high) = view.low_mm, view.high_mm
    for x in xs:
        yield Stroke("GRID", np.array([[_x(view, x), low], [_x(view, x), high]]))


def _levels(view: PlanView, levels: Iterable[float]) -> Iterator[Stroke]:
    (left, _), (right, _) = view.low_mm, view.high_mm
    for level in levels:
        y = _y(view, level)
        layer: PlanLayer = "DWL" if level == 0.0 else "GRID"
        yield Stroke(layer, np.array([[left, y], [right, y]]))


def _level_labels(
    view: PlanView, levels: Iterable[float], letters: float, lengths: LengthStyle
) -> Iterator[Label]:
    """At both ends of each level."""
    for level in levels:
        rank = TITLES if level == 0.0 else LEVELS
        y = _y(view, level) - 0.3 * letters
        words = lengths.level(level)
        yield Label(words, (view.low_mm[0] - 0.8 * letters, y), letters, 1.0, rank=rank)
        yield Label(words, (view.high_mm[0] + 0.8 * letters, y), letters, 0.0, rank=rank)


def _station_labels(plan: LinesPlan, view: PlanView, letters: float) -> Iterator[Label]:
    for station in plan.stations:
        at = _x(view, station.x), view.low_mm[1] - 1.4 * letters
        rank = STATIONS if station.number in range(INTERVALS + 1) else STATIONS + 1
        yield Label(station.name, at, letters, 0.5, rank=rank)


def _title(view: PlanView, words: str, letters: float) -> Label:
    at = view.low_mm[0], view.high_mm[1] + 5.6 * letters
    return Label(words, at, 1.3 * letters, bold=True, rank=TITLES)


def _crosses(view: PlanView, points: FloatArray, letters: float) -> Iterator[Stroke]:
    arm = CROSS * letters
    for at in view.on_paper(points.reshape(-1, 2)):
        for way in ((arm, 0.0), (0.0, arm)):
            yield Stroke("READINGS", np.array([at - np.array(way), at + np.array(way)]))


def _named(
    view: PlanView, rows: list[tuple[FloatArray, str]], done: OnSheet, letters: float
) -> OnSheet:
    """Names beside curves, where there is room within the view."""
    drawn = [dense(s.points, 0.8 * CELL) for s in done.strokes if s.layer != "GRID"]
    ink = Ink(view.low_mm, view.high_mm, np.concatenate(drawn))
    for label in done.labels:
        ink.add(label.box)
    labels = []
    for points, name in rows:
        label = Label(name, (0.0, 0.0), 0.85 * letters, rank=NAMES)
        found = beside(view.on_paper(points), label, ink)
        if found is not None:
            ink.add(found.box)
            labels.append(found)
    return OnSheet(labels=tuple(labels))
