"""Nests of one thickness: which sheets to buy, and what lies where.

First a nest on the grid that surely holds, over every choice of sheets from the cheapest up.
Then, given time, the packing library on cheaper choices and on the same ones, for a longer
leftover. Every nest is checked on the exact outlines before it is returned.
"""

from collections import Counter
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import combinations_with_replacement
from math import comb
from time import monotonic

from hullchange.shop.nest import (
    ALONG,
    Nest,
    Placement,
    Shape,
    Sheet,
    Spacing,
    fits,
    require_sound,
    used_length,
)
from hullchange.shop.raster import packed
from hullchange.shop.strip import strip_nest

ReportProgress = Callable[[str], None]
"""Called with words that say how far the work is; raising in it stops the work."""

Packed = dict[int, dict[tuple[int, ...], Nest]]
"""By the way to lie: the last of a row of sheets that are filled one after the other."""

FULLEST = 0.88  # of a choice's area: fuller ones are not tried
MOST_SHEETS = 6
MOST_CHOICES = 60
MOST_ROWS = 20_000  # of choices, before they are sorted by what they cost
TRIES = (0.82, 0.76, 0.70, 0.62)  # of a sheet's area, what is put on it first
SEEDS = (1, 2, 3)
FEW = 3  # pieces on a sheet are not worth tightening


@dataclass(frozen=True)
class Effort:
    """How long the packing library may be tried for one thickness [s]; zero leaves it out."""

    seconds: float = 0.0
    each: int = 4


def nests_of(
    shapes: Sequence[Shape],
    stock: Sequence[Sheet],
    spacing: Spacing,
    effort: Effort,
    progress: ReportProgress = lambda _: None,
) -> tuple[tuple[Nest, ...], tuple[Shape, ...]]:
    """Nests, and the shapes that no whole sheet takes and no leftover has room for.

    Args:
        shapes: of one thickness, ids unlike.
        stock: leftovers once each, whole sheets as often as they are needed.
        spacing: gap and margin.
        effort: what the packing library is given.
        progress: called with words for what is tried.
    """
    by_size = sorted(shapes, key=lambda s: (-s.region.area, s.id))
    whole = priced_sheets([sheet for sheet in stock if not sheet.leftover])
    large = [s for s in by_size if not any(fits(s, sheet, spacing) for sheet in whole)]
    used = on_leftovers(large, [s for s in by_size if s not in large], stock, spacing)
    left_out = _less(large, used)
    rest = [s for s in _less(by_size, used) if s not in left_out]
    nests = tuple(used)
    if rest:
        quick = _on_the_grid(rest, whole, spacing, progress)
        nests += _better(quick, rest, whole, spacing, effort, progress)
    known = {shape.id: shape for shape in shapes if shape not in left_out}
    require_sound(nests, known, spacing)
    return nests, tuple(left_out)


def _less(shapes: Sequence[Shape], nests: Sequence[Nest]) -> list[Shape]:
    """The shapes that lie on none of the nests."""
    placed = {place.id for nest in nests for place in nest.places}
    return [shape for shape in shapes if shape.id not in placed]


def cost(nests: Sequence[Nest]) -> float:
    """Price of the sheets, as used to compare nests."""
    return sum(nest.sheet.cost for nest in nests)


def mean_rate(sheets: Sequence[Sheet]) -> float | None:
    """Price of a square metre, the mean over what is priced in the stock; None for none."""
    rates = {s.name: s.price / s.region.area for s in sheets if s.price is not None}
    return sum(rates.values()) / len(rates) if rates else None


def priced_sheets(sheets: Sequence[Sheet]) -> list[Sheet]:
    """Whole sheets of one thickness, those without a price at the mean of the others."""
    rate = mean_rate(sheets)
    return [replace(s, rate=1.0 if rate is None else rate) for s in sheets]


def on_leftovers(
    large: Sequence[Shape], others: Sequence[Shape], stock: Sequence[Sheet], spacing: Spacing
) -> list[Nest]:
    """What lies in the yard is used up before anything is bought.

    Args:
        large: shapes that go on no whole sheet, placed first and so the same way whatever
            the others are.
        others: the rest.
        stock: whose leftovers are used, the largest first.
        spacing: gap and margin.
    """
    nests: list[Nest] = []
    for sheet in sorted((s for s in stock if s.leftover), key=lambda s: -s.region.area):
        first = _less(large, nests)
        nest = packed([*first, *_less(others, nests)], sheet, spacing)
        if first and _less(first, [nest]) == first:
            nest = next((n for n in (_cornered(s, sheet, spacing) for s in first) if n), nest)
        if nest.places:
            nests.append(nest)
    return nests


def _cornered(shape: Shape, sheet: Sheet, spacing: Spacing) -> Nest | None:
    """A shape that only just fits, in a corner of what the margin leaves of a sheet."""
    inner = sheet.region.buffer(-spacing.margin, join_style="mitre")
    if inner.is_empty:
        return None
    room = inner.buffer(1e-9, join_style="mitre")
    for turn in shape.turns:
        lying = shape.lying(turn).bounds
        for k in (0, 2):
            for j in (1, 3):
                shift = inner.bounds[k] - lying[k], inner.bounds[j] - lying[j]
                place = Placement(shape.id, turn, shift)
                if room.covers(shape.at(place)):
                    return Nest(sheet, (place,))
    return None


def _choices(
    shapes: Sequence[Shape], stock: Sequence[Sheet], spacing: Spacing, below: float
) -> list[tuple[Sheet, ...]]:
    """Choices of whole sheets that could be enough, the cheapest first."""
    wanted = sum(shape.region.area for shape in shapes)
    least = max(1, int(wanted / max(sheet.region.area for sheet in stock)))
    kinds = _kinds(stock, least + MOST_SHEETS)
    rows = [
        choice
        for count in range(least, least + MOST_SHEETS)
        for choice in combinations_with_replacement(kinds, count)
        if wanted <= FULLEST * sum(sheet.region.area for sheet in choice)
    ]
    priced = sorted(
        ((sum(s.cost for s in row), row) for row in rows),
        key=lambda r: (r[0], sum(s.region.area for s in r[1])),
    )
    takers = {frozenset(n for n, t in enumerate(stock) if fits(s, t, spacing)) for s in shapes}
    numbers = {id(sheet): number for number, sheet in enumerate(stock)}
    return [
        row
        for price, row in priced
        if price < below and all(any(numbers[id(s)] in some for s in row) for some in takers)
    ][:MOST_CHOICES]


def _kinds(stock: Sequence[Sheet], count: int) -> list[Sheet]:
    """Sheets of which so many make no more choices than can be looked at.

    The largest is among them, and of the others the cheapest by their area.
    """
    many = len(stock)
    while many > 1 and comb(many + count - 1, count) > MOST_ROWS:
        many -= 1
    largest = max(stock, key=lambda s: s.region.area)
    others = (s for s in stock if s is not largest)
    by_rate = sorted(others, key=lambda s: s.cost / s.region.area)
    kept = [largest, *by_rate[: many - 1]]
    return [sheet for sheet in stock if sheet in kept]


def _on_the_grid(
    shapes: Sequence[Shape], stock: Sequence[Sheet], spacing: Spacing, progress: ReportProgress
) -> tuple[Nest, ...]:
    """The cheapest choice that takes everything on the grid; else sheet after sheet."""
    known: Packed = {}
    for choice in _choices(shapes, stock, spacing, float("inf")):
        progress(f"trying {_words(choice)}")
        nests = _filled(shapes, choice, spacing, known)
        if sum(len(nest.places) for nest in nests) == len(shapes):
            return tuple(nest for nest in nests if nest.places)
    rows: list[Nest] = []
    largest = max(stock, key=lambda s: s.region.area)
    while rest := _less(shapes, rows):
        (nest,) = _filled(rest, (largest,), spacing, {})
        rows.append(nest if nest.places else _alone(rest[0], stock, spacing))
    return tuple(rows)


def _alone(shape: Shape, stock: Sequence[Sheet], spacing: Spacing) -> Nest:
    """A shape that only just fits, against the margin of the smallest sheet that takes it."""
    for sheet in sorted(stock, key=lambda s: s.region.area):
        for turn in shape.turns:
            one = replace(shape, turns=(turn,))
            if fits(one, sheet, spacing):
                low_x, low_y, _, _ = shape.lying(turn).bounds
                shift = spacing.margin - low_x, spacing.margin - low_y
                return Nest(sheet, (Placement(shape.id, turn, shift),))
    raise AssertionError("asked only where a sheet takes it")


def _filled(
    shapes: Sequence[Shape], choice: Sequence[Sheet], spacing: Spacing, known: Packed
) -> list[Nest]:
    """Sheet after sheet on the grid, the largest first, by the better of two ways to lie."""
    level = [
        replace(s, turns=s.turns[::2] if len(s.turns) > len(ALONG) else s.turns) for s in shapes
    ]
    by_id = {shape.id: shape for shape in shapes}
    ways = [
        _in_turn(way, choice, spacing, known.setdefault(number, {}))
        for number, way in enumerate((shapes, level))
    ]
    return min(
        ways,
        key=lambda nests: (
            -sum(len(nest.places) for nest in nests),
            sum(used_length(nest, by_id) for nest in nests),
        ),
    )


def _in_turn(
    shapes: Sequence[Shape],
    choice: Sequence[Sheet],
    spacing: Spacing,
    known: dict[tuple[int, ...], Nest],
) -> list[Nest]:
    """As far as the sheets that are left could still be enough."""
    nests: list[Nest] = []
    sheets = sorted(choice, key=lambda s: -s.region.area)
    for number, sheet in enumerate(sheets, 1):
        rest = _less(shapes, nests)
        room = sum(s.region.area for s in sheets[number - 1 :])
        if len(choice) > 1 and sum(s.region.area for s in rest) > room:
            break
        key = tuple(id(s) for s in sheets[:number])
        if key not in known:
            known[key] = packed(rest, sheet, spacing)
        nests.append(known[key])
    return nests


def _better(
    nests: tuple[Nest, ...],
    shapes: Sequence[Shape],
    stock: Sequence[Sheet],
    spacing: Spacing,
    effort: Effort,
    progress: ReportProgress,
) -> tuple[Nest, ...]:
    """A cheaper choice by the packing library, or the same one with more left over."""
    until = monotonic() + effort.seconds
    known = {shape.id: shape for shape in shapes}
    best = nests
    for choice in (
        _choices(shapes, stock, spacing, cost(nests) - 1e-9) if effort.seconds else []
    ):
        if monotonic() > until:
            break
        progress(f"packing closer on {_words(choice)}")
        found = _by_library(shapes, choice, spacing, effort, until)
        if found is not None:
            best = found
            break
    return tuple(_tightened(nest, known, spacing, effort, until) for nest in best)


def _by_library(
    shapes: Sequence[Shape],
    choice: Sequence[Sheet],
    spacing: Spacing,
    effort: Effort,
    until: float,
) -> tuple[Nest, ...] | None:
    """Everything on a choice of sheets, the largest filled first; nothing where it fails."""
    first, *others = sorted(choice, key=lambda s: -s.region.area)
    for share in TRIES if others else (1.0,):
        some = _up_to(shapes, share * first.region.area)
        nest = strip_nest(some, first, spacing, effort.each, SEEDS[0]) if some else None
        if nest is not None:
            rest = _less(shapes, (nest,))
            if not rest:
                return (nest,)
            after = _by_library(rest, others, spacing, effort, until) if others else None
            if after is not None:
                return (nest, *after)
        if monotonic() > until:
            break
    return None


def _up_to(shapes: Sequence[Shape], area: float) -> list[Shape]:
    """The largest shapes that together stay within an area."""
    some, total = [], 0.0
    for shape in shapes:
        if total + shape.region.area <= area:
            some.append(shape)
            total += shape.region.area
    return some


def _tightened(
    nest: Nest, known: Mapping[str, Shape], spacing: Spacing, effort: Effort, until: float
) -> Nest:
    """The same pieces on the same sheet, as short as three tries make them."""
    shapes = [known[place.id] for place in nest.places]
    best = nest
    if not nest.sheet.is_rectangle or len(shapes) < FEW:
        return nest
    for seed in SEEDS:
        if monotonic() > until:
            break
        found = strip_nest(shapes, nest.sheet, spacing, effort.each, seed)
        if found is not None and used_length(found, known) < used_length(best, known):
            best = found
    return best


def _words(choice: Sequence[Sheet]) -> str:
    sizes = Counter(f"{s.size[0]:g} × {s.size[1]:g} m" for s in choice)
    return " and ".join(
        f"{count} sheets of {size}" if count > 1 else size for size, count in sizes.items()
    )
