"""Keels, skegs and rudders to begin from: of each kind one laid under this hull by proportions.

The proportions are common practice, no source.
"""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from hullchange.errors import DocumentError, ModelError
from hullchange.hull.appendages import AppendageInput, appendages_of
from hullchange.hull.hull import Hull
from hullchange.proposals.appendage_shares import (
    FOIL,
    KEELS,
    RUDDER_THICKNESS,
    SideOutline,
    UnderBody,
)

STATIONS = 241
SPANS = {"long": 0.09, "fin": 0.13, "deep": 0.19, "twin": 0.09}
"""How far a keel reaches below the canoe body, as a share of the waterline."""
DEEP = ((0.42, 0.0), (0.455, 1.0), (0.575, 1.0), (0.595, 0.0))
DEEP_HALF = 0.0095  # half thickness, as a share of the waterline
TWIN_CANT = 10.0  # [deg] of bilge keels and of twin rudders
SKEG = ((0.78, 0.0), (0.86, 0.7), (0.89, 0.7), (0.895, 0.0))
SKEG_FOIL = ((0.0, 0.2), (0.4, 1.0), (1.0, 0.8))  # it carries a rudder on its after edge
HUNG_FOIL = ((0.0, 0.9), (0.3, 1.0), (1.0, 0.15))
SPADE, SPADE_DEPTH, TWIN_DEPTH, HUNG_DEPTH = (0.90, 0.98), 0.75, 0.6, 0.85
HUNG_CHORDS = (0.07, 0.06)  # at the hull and at the foot, as shares of the waterline
CARRIERS = (0.60, 0.93)  # where what a rudder hangs on ends, as shares of the waterline
GAP = 0.02  # [m] between a rudder and what it hangs on
OVER_STERN = 0.03  # [m] by which a rudder on the transom is drawn into it before it is cut
HEAD = 0.6  # share of the way from the foot of the transom to the sheer
MIDDLE = (0.2, 0.8)  # where keels stand, as shares of the waterline
TAKEN = 0.5  # share of a side view that may stand where there is something already


@dataclass(frozen=True, eq=False)
class ProposedAppendage:
    """What is proposed of a kind.

    Attributes:
        kind: a key of `APPENDAGE_KINDS`.
        given: one appendage, or a skeg and the rudder on it.
        sentence: how it was chosen, or why it has no place.
        fits: whether it builds, and stands where nothing else does.
    """

    kind: str
    given: tuple[AppendageInput, ...]
    sentence: str
    fits: bool = True


@dataclass(frozen=True, eq=False)
class _UnderHull:
    """The hull, what stands under it already, and what is measured of both."""

    hull: Hull
    beside: tuple[AppendageInput, ...]

    def body(self, y: float = 0.0) -> UnderBody:
        """The bottom at a half-breadth [m]."""
        hull = self.hull
        x = np.linspace(hull.lines.centreline.fore_x, hull.lines.centreline.aft_x, STATIONS)
        z = (
            hull.lines.centreline.at(x)[:, 1]
            if y == 0.0
            else hull.bottom_z(x, np.full_like(x, y))
        )
        wet = x[hull.lines.centreline.at(x)[:, 1] < 0.0]
        fore, aft = (float(wet[0]), float(wet[-1])) if len(wet) else (float(x[0]), float(x[-1]))
        return UnderBody(fore, aft - fore, x, z)

    @property
    def depth(self) -> float:
        """Depth [m] of the canoe body below the waterline."""
        return -float(self.body().z.min())

    def draught(self, span: float) -> float:
        """Draught [m] of a keel: as deep as one that she has, else by its share."""
        body = self.body()
        keels = [
            -min(z for _, z in one.outline)
            for one in self.beside
            if body.at(MIDDLE[0]) < _middle(one) < body.at(MIDDLE[1])
        ]
        return max([self.depth + span * body.length, *keels])

    def half_breadth(self, shares: tuple[float, float]) -> float:
        """Least of the greatest half-breadths [m] between two shares of the waterline."""
        body = self.body()
        x = np.linspace(body.at(shares[0]), body.at(shares[1]), 9)
        return float(self.hull.sections(x)[..., 0].max(axis=1).min())

    @property
    def carrier(self) -> AppendageInput | None:
        """The skeg or long keel that a rudder can hang on."""
        body = self.body()
        ends = [
            (max(x for x, _ in one.outline), k)
            for k, one in enumerate(self.beside)
            if not one.pair
        ]
        fits = [end for end in ends if body.at(CARRIERS[0]) < end[0] < body.at(CARRIERS[1])]
        return self.beside[max(fits)[1]] if fits else None


def _middle(given: AppendageInput) -> float:
    return sum(x for x, _ in given.outline) / len(given.outline)


def _keel(under: _UnderHull, outline: SideOutline, span: float, half: float) -> AppendageInput:
    body = under.body()
    table = _scaled(FOIL, half * body.length)
    laid = body.laid(outline, under.draught(span))
    return AppendageInput("keel", laid, table, "ellipse")


def _scaled(foil: SideOutline, half: float) -> SideOutline:
    return tuple((at, round(share * half, 3)) for at, share in foil)


def _long_keel(under: _UnderHull) -> tuple[AppendageInput, ...]:
    shares = KEELS["long"]
    return (_keel(under, shares.outline, SPANS["long"], shares.half_thickness),)


def _fin_keel(under: _UnderHull) -> tuple[AppendageInput, ...]:
    shares = KEELS["fin"]
    return (_keel(under, shares.outline, SPANS["fin"], shares.half_thickness),)


def _deep_fin(under: _UnderHull) -> tuple[AppendageInput, ...]:
    return (_keel(under, DEEP, SPANS["deep"], DEEP_HALF),)


def _bilge_keels(under: _UnderHull) -> tuple[AppendageInput, ...]:
    shares = KEELS["twin"]
    at = round(shares.at_breadth * under.hull.beam, 2)
    body = under.body(at)
    deep = under.depth + SPANS["twin"] * body.length
    table = _scaled(FOIL, shares.half_thickness * body.length)
    laid = body.laid(shares.outline, deep)
    return (AppendageInput("bilge-keels", laid, table, "ellipse", at, TWIN_CANT, True),)


def _skeg(under: _UnderHull) -> tuple[AppendageInput, ...]:
    body = under.body()
    laid = body.laid(SKEG, under.draught(SPANS["fin"]))
    chord = (SKEG[-1][0] - SKEG[0][0]) * body.length
    return (AppendageInput("skeg", laid, _scaled(SKEG_FOIL, 0.05 * chord)),)


def _spade(under: _UnderHull) -> tuple[AppendageInput, ...]:
    body = under.body()
    fore, aft = SPADE
    outline = ((fore, 0.0), (fore + 0.01, SPADE_DEPTH), (aft - 0.01, SPADE_DEPTH), (aft, 0.0))
    laid = body.laid(outline, under.draught(SPANS["fin"]))
    table = _scaled(FOIL, RUDDER_THICKNESS * (laid[-1][0] - laid[0][0]) * 1.5)
    return (AppendageInput("rudder", laid, table, "ellipse"),)


def _twin_rudders(under: _UnderHull) -> tuple[AppendageInput, ...]:
    at = round(max(0.45 * under.half_breadth(SPADE), 0.12), 2)
    body = under.body(at)
    fore, aft = SPADE
    outline = ((fore, 0.0), (fore + 0.01, TWIN_DEPTH), (aft - 0.015, TWIN_DEPTH), (aft, 0.0))
    laid = body.laid(outline, under.draught(SPANS["fin"]))
    table = _scaled(FOIL, RUDDER_THICKNESS * (laid[-1][0] - laid[0][0]) * 1.5)
    return (AppendageInput("rudders", laid, table, "ellipse", at, TWIN_CANT, True),)


def _hung_rudder(under: _UnderHull) -> tuple[AppendageInput, ...]:
    """A rudder behind a skeg or long keel; with a skeg where she has neither."""
    carrier, skeg = under.carrier, _skeg(under)[0]
    body, on = under.body(), carrier or skeg
    deepest = min(z for _, z in on.outline)
    foot = max(x for x, z in on.outline if z <= deepest + 0.05)
    top = max(max(x for x, _ in on.outline), foot)
    chords = [share * body.length for share in HUNG_CHORDS]
    low = deepest + GAP
    fore, aft = round(top + GAP, 2), round(top + GAP + chords[0], 2)
    heel = (round(foot + GAP, 2), round(low, 3))
    outline = (
        body.down(fore, under.depth, 0.0),
        heel,
        (round(heel[0] + chords[1], 2), heel[1]),
        body.down(aft, under.depth, 0.0),
    )
    rudder = AppendageInput("rudder", outline, _scaled(HUNG_FOIL, 0.06 * chords[0]))
    return (rudder,) if carrier else (skeg, rudder)


def _transom_rudder(under: _UnderHull) -> tuple[AppendageInput, ...]:
    """A rudder behind the stern, its fore edge along the transom and down to its foot."""
    body, lines = under.body(), under.hull.lines
    foot, deck = lines.centreline.points[-1], lines.sheer.points[-1]
    head = foot + HEAD * (deck - foot)
    chord = HUNG_CHORDS[0] * body.length
    low = -HUNG_DEPTH * under.draught(SPANS["long"])
    behind = max(float(lines.aft_x.max()) + GAP, head[0] + 0.7 * chord)
    fore = [(head[0] - OVER_STERN, head[2]), (foot[0] - OVER_STERN, foot[2])]
    down = foot[0] - 0.5 * OVER_STERN
    aft = [(down, low), (down + chord, low), (max(behind, down + chord), foot[2])]
    points = [*fore, *aft, (behind, head[2])]
    outline = tuple((round(float(x), 2), round(float(z), 3)) for x, z in points)
    return (AppendageInput("rudder", outline, _scaled(HUNG_FOIL, 0.05 * chord)),)


APPENDAGE_KINDS: dict[str, tuple[str, Callable[[_UnderHull], tuple[AppendageInput, ...]]]] = {
    "long_keel": ("Long keel", _long_keel),
    "fin_keel": ("Fin keel", _fin_keel),
    "deep_fin": ("Deep fin keel", _deep_fin),
    "bilge_keels": ("Bilge keels", _bilge_keels),
    "skeg": ("Skeg", _skeg),
    "spade_rudder": ("Spade rudder", _spade),
    "hung_rudder": ("Rudder on skeg or keel", _hung_rudder),
    "transom_rudder": ("Rudder on the transom", _transom_rudder),
    "twin_rudders": ("Twin rudders", _twin_rudders),
}
"""Every kind that can be begun from: what it is called, and how it is laid."""


def proposed_appendage(
    kind: str, hull: Hull, beside: tuple[AppendageInput, ...]
) -> ProposedAppendage:
    """An appendage of a kind under a hull, and whether it fits.

    Args:
        kind: a key of `APPENDAGE_KINDS`.
        hull: its canoe body.
        beside: the appendages that she has.

    Raises:
        ModelError: ``unknown-kind``.
    """
    if kind not in APPENDAGE_KINDS:
        known = ", ".join(APPENDAGE_KINDS)
        sentence = f"{kind} is not a kind of appendage; choose one of {known}."
        raise ModelError("unknown-kind", sentence, "kind")
    title, lay = APPENDAGE_KINDS[kind]
    laid = lay(_UnderHull(hull, beside))
    taken = next((old for old in beside for new in laid if _stands_in(new, old)), None)
    if taken is not None:
        name = taken.name.replace("-", " ")
        sentence = f"Her {name} is already there: change its points, or delete it first."
        return ProposedAppendage(kind, laid, sentence, fits=False)
    try:
        appendages_of((*beside, *laid), hull.lines, hull.surface)
    except DocumentError as error:
        return ProposedAppendage(kind, laid, error.faults[0].sentence, fits=False)
    return ProposedAppendage(kind, laid, f"{title}: {_words(laid)}")


def _stands_in(new: AppendageInput, old: AppendageInput) -> bool:
    """Whether more than half of the length of one lies where another stands."""
    if new.plane.is_amidships != old.plane.is_amidships:
        return False
    (fore, aft), (start, end) = (
        (min(x for x, _ in one.outline), max(x for x, _ in one.outline)) for one in (new, old)
    )
    return min(aft, end) - max(fore, start) > TAKEN * (aft - fore)


def _words(laid: tuple[AppendageInput, ...]) -> str:
    first = laid[-1]
    xs, zs = zip(*first.outline, strict=True)
    table = first.half_thickness
    half = max(h for _, h in table) if isinstance(table, tuple) else table
    with_skeg = " with the skeg it hangs on" if len(laid) > 1 else ""
    return (
        f"{max(xs) - min(xs):.2f} m long, {-min(zs):.2f} m deep, {2e3 * half:.0f} mm "
        f"thick{with_skeg}. Proportions are common practice, no source."
    )
