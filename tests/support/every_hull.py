"""Hulls of every sort there is to try parts on, each from a seed."""

import hull_families
import hulls
import numpy as np
import other_hulls

from hullchange.errors import ModelError
from hullchange.hull.hull import HullInput, hull_of
from hullchange.hull.lines import LineInput


def every_hull(count, first=0):
    """(name, hull): half of families by power curves, a quarter each of two other makers."""
    half, quarter = count - 2 * (count // 4), count // 4
    for seed, family, hull in hull_families.family_hulls(half, first):
        yield f"{family} {seed}", hull
    for seed in range(first, first + quarter):
        yield f"chined {seed}", hulls.random_hull(seed)
    yield from _others(quarter, first)


def _others(count, seed):
    while count:
        form, plain = other_hulls.hull_of(np.random.default_rng(seed))
        lines = tuple(
            LineInput(name, line["kind"], tuple(map(tuple, line["points_m"])))
            for name, line in plain["lines"].items()
        )
        deck = plain["deck"]
        try:
            hull = hull_of(
                HullInput(lines, deck["camber_m"], deck["at_half_breadth_m"]),
                hull_families.TRIANGLES,
            )
        except ModelError:
            hull = None
        if hull is not None:
            yield f"{form.kind} {seed}", hull
            count -= 1
        seed += 1
