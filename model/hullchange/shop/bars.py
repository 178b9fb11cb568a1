"""Bars cut from stock lengths at the least cost, with the bound that proves it.

First fit decreasing; where it misses the bound, every pattern a bar can be cut by and a whole
number of each (HiGHS, in scipy), or of those worth having where there are too many.
"""

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import product
from math import ceil, prod

import numpy as np
from scipy.optimize import Bounds, LinearConstraint, linprog, milp
from scipy.sparse import csc_matrix

from hullchange.shop.bar_columns import columns_of

MOST_PATTERNS = 50_000
MOST_MIXES = 500
SECONDS = 20.0
MOST_NODES, FEW_NODES = 1_000_000, 20
"""Of the search: few where it sees some of the ways only, and ends the same each time."""

REUSABLE = 0.5
"""[m] an offcut is kept from this length on (common practice, no source)."""

_FINE = 1e-6  # [m] by which a length may be over, for rounding
_SAME = 1e-9  # share of a cost


@dataclass(frozen=True)
class StockLength:
    """A bar as it is sold.

    Attributes:
        length: [m].
        cost: price used to compare, in a unit that all of one section share.
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
        bars: the most expensive first.
        least: price that no choice of bars can be below.
        proven: whether no choice of bars costs less than these.
    """

    bars: tuple[SawnBar, ...]
    least: float
    proven: bool

    @property
    def cost(self) -> float:
        """Price of all bars."""
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
    rooms = [one.length + kerf + _FINE for one in sold]
    needed = sum((size + kerf) * n for size, n in demand.items())
    room = _Room(needed, tuple(sold), tuple(rooms))
    per_metre = min(one.cost / free for one, free in zip(sold, rooms, strict=True))
    least = room.least(needed * per_metre)
    quick = _first_fit(list(demand.elements()), sold, kerf)
    if _cost(quick) <= least * (1.0 + _SAME):
        return BarPlan(quick, _cost(quick), proven=True)
    counts = np.array([demand[size] for size in sizes])
    patterns = [
        (one, row)
        for one, free in zip(sold, rooms, strict=True)
        for row in _patterns(sizes, counts, free, kerf)
    ]
    if len(patterns) <= MOST_PATTERNS:
        return _by_patterns(sizes, counts, patterns, quick, room)
    if sold[-1].cost <= 0.0:
        return BarPlan(quick, least, proven=False)
    ways = columns_of(
        np.array(sizes) + kerf, counts, np.array(rooms), np.array([s.cost for s in sold])
    )
    some = [(sold[n], tuple(row)) for n, row in zip(ways.stock, ways.rows, strict=True)]
    bound = room.least(max(least, ways.least * (1.0 - _SAME)))
    better = _mixed(list(demand.elements()), room.mixes(bound, _cost(quick)), kerf)
    return _by_patterns(sizes, counts, some, better or quick, bound)


def _worth_having(stock: Sequence[StockLength]) -> list[StockLength]:
    """The longest first, without those that a longer one replaces at no more cost."""
    kept: list[StockLength] = []
    for one in sorted(stock, key=lambda s: (-s.length, s.cost)):
        if all(one.cost < other.cost for other in kept):
            kept.append(one)
    return kept


@dataclass(frozen=True)
class _Room:
    """What is wanted in all, against what bars hold: both with one cut more [m].

    Attributes:
        needed: of all lengths.
        sold: the longest first, each cheaper than those before it.
        rooms: of each of them.
    """

    needed: float
    sold: tuple[StockLength, ...]
    rooms: tuple[float, ...]

    def least(self, cost: float) -> float:
        """A bound raised to what some whole number of each length costs that holds it all."""
        costs = [one.cost for one in self.sold]
        if costs[-1] <= 0.0:
            return cost
        wanted = cost * (1.0 - _SAME)
        most = [range(ceil(wanted / one) + 1) for one in costs[:-1]]
        if prod(len(numbers) for numbers in most) > MOST_PATTERNS:
            return cost
        return max(cost, min(self._with_last(row, wanted) for row in product(*most)))

    def _with_last(self, row: Sequence[int], wanted: float) -> float:
        """Cost of so many of each, and as many of the last as are needed with them."""
        paid = sum(n * one.cost for n, one in zip(row, self.sold, strict=False))
        held = sum(n * room for n, room in zip(row, self.rooms, strict=False))
        last = self.sold[-1].cost
        more = max((wanted - paid) / last, (self.needed - held) / self.rooms[-1])
        return paid + max(0, ceil(more - _SAME)) * last

    def mixes(self, low: float, high: float) -> Iterator[list[StockLength]]:
        """Numbers of each that hold it all at a cost within limits, the cheapest first."""
        most = [range(int(high / one.cost) + 1) for one in self.sold]
        if prod(len(numbers) for numbers in most) > MOST_PATTERNS:
            return
        costs = [one.cost for one in self.sold]
        rows = [(float(np.dot(row, costs)), row) for row in product(*most)]
        kept = sorted(
            (cost, row)
            for cost, row in rows
            if low * (1.0 - _SAME) <= cost < high * (1.0 - _SAME)
            and np.dot(row, self.rooms) >= self.needed
        )
        for _, row in kept[:MOST_MIXES]:
            yield [one for one, n in zip(self.sold, row, strict=True) for _ in range(n)]


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


def _mixed(
    lengths: Sequence[float], mixes: Iterable[list[StockLength]], kerf: float
) -> tuple[SawnBar, ...] | None:
    """The first of the mixes of bars that takes all lengths, the tightest place for each."""
    wanted = sorted(lengths, reverse=True)
    for mix in mixes:
        left = [one.length for one in mix]
        cuts: list[list[float]] = [[] for _ in mix]
        for size in wanted:
            room = [k for k, free in enumerate(left) if free >= size - _FINE]
            if not room:
                break
            tightest = min(room, key=lambda k: left[k])
            left[tightest] -= size + kerf
            cuts[tightest].append(size)
        else:
            return tuple(
                SawnBar(one, tuple(row)) for one, row in zip(mix, cuts, strict=True) if row
            )
    return None


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
    bound: float | _Room,
) -> BarPlan:
    """The best of some patterns, with their bound; or of all there are, and what they fill."""
    columns = csc_matrix(np.array([row for _, row in patterns]).T)
    costs = np.array([one.cost for one, _ in patterns])
    every = isinstance(bound, _Room)
    if isinstance(bound, _Room):
        relaxed = linprog(costs, A_ub=-columns, b_ub=-counts, method="highs")
        least = bound.least(float(relaxed.fun) * (1.0 - _SAME))
    else:
        least = bound
    if _cost(quick) <= least * (1.0 + 2.0 * _SAME):
        return BarPlan(quick, _cost(quick), proven=True)
    answer = milp(
        costs,
        constraints=LinearConstraint(columns, counts, np.inf),
        integrality=np.ones(len(patterns)),
        bounds=Bounds(0, np.inf),
        options={
            "time_limit": SECONDS,
            "mip_rel_gap": 0.0,
            "node_limit": MOST_NODES if every else FEW_NODES,
        },
    )
    bars = quick
    if answer.x is not None:
        found = _cut_by(sizes, counts, patterns, np.round(answer.x).astype(int))
        bars = min((quick, found), key=_cost)
    done = every and answer.status == 0
    done |= _cost(bars) <= least * (1.0 + 2.0 * _SAME)
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
