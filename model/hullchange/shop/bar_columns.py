"""Ways to cut a bar, found one after the other where there are too many to write down.

Column generation (Gilmore and Gomory 1961, from memory): the cheapest mix of the ways known
puts a worth on every length; the way worth more than its bar costs is added, until none is.
"""

from dataclasses import dataclass

import numpy as np
from scipy.optimize import linprog

from hullchange.geometry.frame import FloatArray, IntArray

GRID = 2.5e-4
"""[m] to which lengths are rounded down, and bars up: the bound holds, a way found may not."""

MOST_ROUNDS = 300
_NEAR = 1e-9  # share by which a bound may still rise


@dataclass(frozen=True)
class Columns:
    """Ways to cut bars, and the least cost of any mix of all possible ways.

    Attributes:
        rows: (n, k) how often each length is cut from one bar.
        stock: (n,) number of the bar it is cut from.
        least: lowest possible price.
    """

    rows: IntArray
    stock: IntArray
    least: float


def columns_of(
    sizes: FloatArray, counts: IntArray, room: FloatArray, costs: FloatArray
) -> Columns:
    """Ways that are worth having.

    Args:
        sizes: (k,) lengths with what the saw takes [m].
        counts: (k,) number of each that are wanted.
        room: (m,) lengths of the bars in stock, with one cut more [m].
        costs: (m,) their prices, above zero.
    """
    rows, stock = _plain_ways(sizes, counts, room, costs)
    least = 0.0
    for _ in range(MOST_ROUNDS):
        answer = linprog(
            costs[stock], A_ub=-np.array(rows).T, b_ub=-counts.astype(float), method="highs"
        )
        worth = np.maximum(0.0, -answer.ineqlin.marginals)
        found = [_best_way(sizes, counts, free, worth) for free in room]
        over = max(value / cost for (_, value), cost in zip(found, costs, strict=True))
        # worths made so small that no way is worth more than its bar: what is wanted costs that
        least = max(least, float(worth @ counts) / max(over, 1e-12))
        known = {(number, tuple(row)) for number, row in zip(stock, rows, strict=True)}
        more = [
            (number, row)
            for number, (row, value) in enumerate(found)
            if value > costs[number] * (1.0 + _NEAR)
            and row @ sizes <= room[number]
            and (number, tuple(row)) not in known
        ]
        if not more:
            break
        stock += [number for number, _ in more]
        rows += [row for _, row in more]
    return Columns(np.array(rows), np.array(stock), least)


def _plain_ways(
    sizes: FloatArray, counts: IntArray, room: FloatArray, costs: FloatArray
) -> tuple[list[IntArray], list[int]]:
    """The columns with as many of one length as its cheapest bar takes."""
    rows, stock = [], []
    for k, size in enumerate(sizes):
        times = np.minimum(np.floor(room / size), counts[k]).astype(int)
        each = np.where(times > 0, costs / np.maximum(times, 1), np.inf)
        stock.append(int(np.argmin(each)))
        row = np.zeros(len(sizes), int)
        row[k] = times[stock[-1]]
        rows.append(row)
    return rows, stock


def _best_way(
    sizes: FloatArray, counts: IntArray, room: float, worth: FloatArray
) -> tuple[IntArray, float]:
    """The way worth most, and its worth, no length more often than it is wanted."""
    steps = np.floor(sizes / GRID).astype(int)
    cells = int(np.ceil(room / GRID))
    best = np.zeros(cells + 1)
    taken = []
    for k, times in _lots(np.minimum(counts, cells // np.maximum(steps, 1))):
        wide, value = times * steps[k], times * worth[k]
        better = np.zeros(cells + 1, bool)
        if 0 < wide <= cells:
            with_it = best[:-wide] + value
            better[wide:] = with_it > best[wide:]
            best = np.concatenate([best[:wide], np.maximum(best[wide:], with_it)])
        taken.append((k, times, wide, better))
    row, at = np.zeros(len(sizes), int), cells
    for k, times, wide, better in reversed(taken):
        if better[at]:
            row[k] += times
            at -= wide
    return row, float(best[cells])


def _lots(counts: IntArray) -> list[tuple[int, int]]:
    """Numbers of each length in lots of 1, 2, 4 and so on that make every count up to all."""
    lots = []
    for k, count in enumerate(counts.tolist()):
        lot, left = 1, count
        while left > 0:
            lots.append((k, min(lot, left)))
            left -= min(lot, left)
            lot *= 2
    return lots
