"""Bars cut from stock lengths: as few as can be, with the bound that says so.

First fit decreasing; where it misses the bound, every pattern a bar can be cut by and a whole
number of each (HiGHS, in scipy).
"""

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import ceil

import numpy as np
from scipy.optimize import Bounds, LinearConstraint, linprog, milp
from scipy.sparse import csc_matrix

MOST_PATTERNS = 50_000
SECONDS = 20.0
REUSABLE = 0.5
"""[m] an offcut is kept from this length on (common practice, no source)."""


@dataclass(frozen=True)
class BarPlan:
    """What to buy of one section, and what to cut from each bar.

    Attributes:
        stock: length of a bar as bought [m].
        cuts: lengths [m] cut from each bar, the longest first.
        bound: fewest bars that could do.
        proven: True where the plan needs no more than the bound, or no fewer can do.
    """

    stock: float
    cuts: tuple[tuple[float, ...], ...]
    bound: int
    proven: bool

    def offcuts(self, kerf: float) -> tuple[float, ...]:
        """What is left of each bar [m]."""
        return tuple(max(0.0, self.stock - sum(row) - kerf * len(row)) for row in self.cuts)


def bar_plan(lengths: Sequence[float], stock: float, kerf: float) -> BarPlan:
    """The fewest bars for given lengths [m], none longer than the stock."""
    assert lengths
    assert max(lengths) <= stock
    demand = Counter(round(length, 6) for length in lengths)
    sizes = sorted(demand, reverse=True)
    counts = np.array([demand[size] for size in sizes])
    room = stock + kerf
    whole = ceil(sum((size + kerf) * n for size, n in demand.items()) / room - 1e-9)
    quick = _first_fit(sorted(lengths, reverse=True), stock, kerf)
    if len(quick) == whole:
        return BarPlan(stock, quick, whole, proven=True)
    patterns = list(_patterns(sizes, counts, room, kerf))
    if len(patterns) > MOST_PATTERNS:
        return BarPlan(stock, quick, whole, proven=False)
    return _by_patterns(sizes, counts, patterns, quick, stock)


def _first_fit(
    lengths: Sequence[float], stock: float, kerf: float
) -> tuple[tuple[float, ...], ...]:
    bars: list[tuple[float, list[float]]] = []
    for length in lengths:
        for k, (left, cut) in enumerate(bars):
            if left >= length - 1e-9:
                bars[k] = left - length - kerf, [*cut, length]
                break
        else:
            bars.append((stock - length - kerf, [length]))
    return tuple(tuple(cut) for _, cut in bars)


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
                size + kerf <= left + 1e-9 and n < count
                for size, n, count in zip(sizes, row, counts, strict=True)
            ):
                found += 1
                yield row
            continue
        size = sizes[len(row)] + kerf
        most = min(int(counts[len(row)]), int((left + 1e-9) / size))
        stack += [((*row, n), left - n * size) for n in range(most + 1)]


def _by_patterns(
    sizes: Sequence[float],
    counts: np.ndarray,
    patterns: Sequence[tuple[int, ...]],
    quick: tuple[tuple[float, ...], ...],
    stock: float,
) -> BarPlan:
    columns = csc_matrix(np.array(patterns).T)
    ones = np.ones(len(patterns))
    relaxed = linprog(ones, A_ub=-columns, b_ub=-counts, method="highs")
    bound = ceil(float(relaxed.fun) - 1e-6)
    if len(quick) == bound:
        return BarPlan(stock, quick, bound, proven=True)
    answer = milp(
        ones,
        constraints=LinearConstraint(columns, counts, np.inf),
        integrality=ones,
        bounds=Bounds(0, np.inf),
        options={"time_limit": SECONDS},
    )
    if answer.x is None or round(answer.fun) >= len(quick):
        done = answer.status == 0
        return BarPlan(stock, quick, len(quick) if done else bound, proven=done)
    left = list(counts)
    cuts = []
    for pattern, times in zip(patterns, np.round(answer.x).astype(int), strict=True):
        for _ in range(times):
            row = [min(n, int(more)) for n, more in zip(pattern, left, strict=True)]
            left = [more - n for n, more in zip(row, left, strict=True)]
            cuts.append(tuple(s for s, n in zip(sizes, row, strict=True) for _ in range(n)))
    kept = tuple(row for row in cuts if row)
    return BarPlan(stock, kept, len(kept) if answer.status == 0 else bound, answer.status == 0)
