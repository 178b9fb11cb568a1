"""Bars cut from stock lengths at the least cost, with the bound that says so.

First fit decreasing; where it misses the bound, every pattern a bar can be cut by and a whole
number of each (HiGHS, in scipy).
"""

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import product
from math import ceil, prod

import numpy as np
from scipy.optimize import Bounds, LinearConstraint, linprog, milp
from scipy.sparse import csc_matrix

MOST_PATTERNS = 50_000
SECONDS = 20.0
REUSABLE = 0.5
"""[m] an offcut is kept from this length on (common practice, no source)."""

_FINE = 1e-6  # [m] by which a length may be over, for rounding
_SAME = 1e-9  # share of a cost


@dataclass(frozen=True)
class StockLength:
    """A bar as it is sold.

    Attributes:
        length: [m].
        cost: what it is reckoned at, in whatever unit all of one section share.
        price: what it costs; None where no price is given.
    """

    length: float
    cost: float
    price: float | None = None


@dataclass(frozen=True)
class SawnBar:
    """One bar as bought, and the lengths [m] cut from it, the longest first."""

    stock: StockLength
    cuts: tuple[float, ...]

    def offcut(self, kerf: float) -> float:
        """What is left of it [m]."""
        return max(0.0, self.stock.length - sum(self.cuts) - kerf * len(self.cuts))


@dataclass(frozen=True)
class BarPlan:
    """What to buy of one section, and what to cut from each bar.

    Attributes:
        bars: the dearest first.
        least: cost below which no choice of bars can do.
        proven: True where no choice of bars costs less than these.
    """

    bars: tuple[SawnBar, ...]
    least: float
    proven: bool

    @property
    def cost(self) -> float:
        """Of all bars."""
        return sum(bar.stock.cost for bar in self.bars)


def bar_plan(lengths: Sequence[float], stock: Sequence[StockLength], kerf: float) -> BarPlan:
    """The cheapest bars for given lengths [m], none longer than the longest in stock.

    Where all bars cost the same, these are the fewest.
    """
    assert lengths
    demand = Counter(round(length, 6) for length in lengths)
    sizes = sorted(demand, reverse=True)
    assert sizes[0] <= max(one.length for one in stock) + _FINE
    sold = _worth_having(stock)
    room = [one.length + kerf + _FINE for one in sold]
    per_metre = min(one.cost / free for one, free in zip(sold, room, strict=True))
    least = _whole(sum((size + kerf) * n for size, n in demand.items()) * per_metre, sold)
    quick = _first_fit(list(demand.elements()), sold, kerf)
    if _cost(quick) <= least * (1.0 + _SAME):
        return BarPlan(quick, _cost(quick), proven=True)
    counts = np.array([demand[size] for size in sizes])
    patterns = [
        (one, row)
        for one, free in zip(sold, room, strict=True)
        for row in _patterns(sizes, counts, free, kerf)
    ]
    if len(patterns) > MOST_PATTERNS:
        return BarPlan(quick, least, proven=False)
    return _by_patterns(sizes, counts, patterns, quick)


def _worth_having(stock: Sequence[StockLength]) -> list[StockLength]:
    """The longest first, without those that a longer one at no more cost stands for."""
    kept: list[StockLength] = []
    for one in sorted(stock, key=lambda s: (-s.length, s.cost)):
        if all(one.cost < other.cost for other in kept):
            kept.append(one)
    return kept


def _whole(cost: float, sold: Sequence[StockLength]) -> float:
    """The bound raised to what some whole number of each length costs."""
    costs = [one.cost for one in sold]  # falling
    if costs[-1] <= 0.0:
        return cost
    *dearer, cheapest = costs
    wanted = cost * (1.0 - _SAME)
    most = [range(ceil(wanted / one) + 1) for one in dearer]
    if prod(len(numbers) for numbers in most) > MOST_PATTERNS:
        return cost
    sums = (sum(n * one for n, one in zip(row, dearer, strict=True)) for row in product(*most))
    rest = ((above, max(0, ceil((wanted - above) / cheapest))) for above in sums)
    return max(cost, min(above + number * cheapest for above, number in rest))


def _cost(bars: Sequence[SawnBar]) -> float:
    return sum(bar.stock.cost for bar in bars)


def _first_fit(
    lengths: Sequence[float], sold: Sequence[StockLength], kerf: float
) -> tuple[SawnBar, ...]:
    """The cheapest of first fit decreasing from the longest, from the two longest and so on.

    Each bar is then taken as short as its lengths let it be.
    """
    ways = []
    wanted = sorted(lengths, reverse=True)
    for first in sold:
        if first.length + _FINE < wanted[0]:
            break
        filled = _filled(wanted, first.length, kerf)
        bars = [SawnBar(_shortest(cuts, sold, kerf), tuple(cuts)) for cuts in filled]
        ways.append(tuple(sorted(bars, key=lambda bar: -bar.stock.cost)))
    return min(ways, key=lambda bars: (_cost(bars), len(bars)))


def _filled(wanted: Sequence[float], length: float, kerf: float) -> list[list[float]]:
    bars: list[tuple[float, list[float]]] = []
    for size in wanted:
        for k, (left, cuts) in enumerate(bars):
            if left >= size - _FINE:
                bars[k] = left - size - kerf, [*cuts, size]
                break
        else:
            bars.append((length - size - kerf, [size]))
    return [cuts for _, cuts in bars]


def _shortest(cuts: Sequence[float], sold: Sequence[StockLength], kerf: float) -> StockLength:
    """The cheapest bar that these lengths go on."""
    needed = sum(cuts) + kerf * (len(cuts) - 1)
    return min((s for s in sold if s.length >= needed - _FINE), key=lambda s: s.cost)


def _patterns(
    sizes: Sequence[float], counts: np.ndarray, room: float, kerf: float
) -> Iterator[tuple[int, ...]]:
    """Every way to cut one bar to which nothing wanted can be added, up to a limit."""
    found = 0
    stack: list[tuple[tuple[int, ...], float]] = [((), room)]
    while stack and found <= MOST_PATTERNS:
        row, left = stack.pop()
        if len(row) == len(sizes):
            if not any(
                size + kerf <= left and n < count
                for size, n, count in zip(sizes, row, counts, strict=True)
            ):
                found += 1
                yield row
            continue
        size = sizes[len(row)] + kerf
        most = min(int(counts[len(row)]), int(left / size))
        stack += [((*row, n), left - n * size) for n in range(most + 1)]


def _by_patterns(
    sizes: Sequence[float],
    counts: np.ndarray,
    patterns: Sequence[tuple[StockLength, tuple[int, ...]]],
    quick: tuple[SawnBar, ...],
) -> BarPlan:
    columns = csc_matrix(np.array([row for _, row in patterns]).T)
    costs = np.array([one.cost for one, _ in patterns])
    sold = list(dict.fromkeys(one for one, _ in patterns))
    relaxed = linprog(costs, A_ub=-columns, b_ub=-counts, method="highs")
    least = _whole(float(relaxed.fun) * (1.0 - _SAME), sold)
    if _cost(quick) <= least * (1.0 + 2.0 * _SAME):
        return BarPlan(quick, _cost(quick), proven=True)
    answer = milp(
        costs,
        constraints=LinearConstraint(columns, counts, np.inf),
        integrality=np.ones(len(patterns)),
        bounds=Bounds(0, np.inf),
        options={"time_limit": SECONDS, "mip_rel_gap": 0.0},
    )
    done = answer.status == 0
    bars = quick
    if answer.x is not None:
        found = _cut_by(sizes, counts, patterns, np.round(answer.x).astype(int))
        bars = min((quick, found), key=_cost)
    return BarPlan(bars, _cost(bars) if done else least, done)


def _cut_by(
    sizes: Sequence[float],
    counts: np.ndarray,
    patterns: Sequence[tuple[StockLength, tuple[int, ...]]],
    times: np.ndarray,
) -> tuple[SawnBar, ...]:
    """Bars cut by so many of each pattern, no length once too often."""
    left = [int(count) for count in counts]
    bars = []
    for (one, pattern), number in zip(patterns, times.tolist(), strict=True):
        for _ in range(number):
            row = [min(n, more) for n, more in zip(pattern, left, strict=True)]
            left = [more - n for n, more in zip(row, left, strict=True)]
            cuts = tuple(s for s, n in zip(sizes, row, strict=True) for _ in range(n))
            bars.append(SawnBar(one, cuts))
    kept = (bar for bar in bars if bar.cuts)
    return tuple(sorted(kept, key=lambda bar: -bar.stock.cost))
