"""What is built inside or into a hull: mast support, replaced hull plate, a flat plate."""

from itertools import pairwise

import numpy as np

from hullchange.errors import ModelError
from hullchange.parts.parameters import Deckhouse, HullPlate, MastSupport, Plating
from hullchange.plain_words import id_in_words
from hullchange.proposals.surroundings import Surroundings, rounded

# proportions are common practice, no source
ON_ROOF = (0.32, 0.68, 0.50)  # of the house's length from its front: main mast, then others
FLOOR_HALF, FLOOR_HEIGHT = 0.20, 0.22  # [m]
SHELF_HALF, SHELF_LENGTH = 0.35, 0.60  # [m]
AMIDSHIPS = 0.45  # of the deck's length, where a hull plate begins


def mast_support(
    around: Surroundings, refusals: tuple[ModelError, ...]
) -> tuple[MastSupport, str]:
    """What carries a mast on the first house's roof, and how it was chosen.

    Raises:
        ModelError: ``nothing-to-stand-on``.
    """
    name = next(iter(around.roofs), "")
    house = around.neighbours.get(name)
    if not isinstance(house, Deckhouse):
        old = next(iter(around.of_kind(Deckhouse)), "")
        sentence = (
            f"A new mast support needs a new house to stand on, and {id_in_words(old)} is an "
            "old one: replace it first."
            if old
            else "There is no house for a mast to stand on: add the house first."
        )
        raise ModelError("nothing-to-stand-on", sentence, "stand")
    there = [
        p for p in around.neighbours.values() if isinstance(p, MastSupport) and p.stand == name
    ]
    if isinstance(around.old, MastSupport) and not refusals:
        words = f"Starts from her present one, under {id_in_words(name)}."
        return around.old.model_copy(update={"stand": name}), words
    tries = len(refusals)
    share = ON_ROOF[min(len(there), 2)] + 0.03 * tries
    x = rounded(house.x_forward_m + share * (house.x_aft_m - house.x_forward_m))
    half = FLOOR_HALF - 0.01 * min(tries, 12)
    z = around.host.bottom_z(np.full(9, x), np.linspace(0.0, half, 9))
    height = max(FLOOR_HEIGHT, float(z.max() - z[0]) + 0.10)
    narrow = min(house.roof_half_breadth_forward_m, house.roof_half_breadth_aft_m)
    pad = max(100.0, rounded(min(300.0, 600.0 * narrow * 0.9**tries), 10))
    given = MastSupport(
        stand=name,
        x_m=x,
        pad_mm=(max(120.0, rounded(340.0 * 0.93**tries, 10)), pad, 12.0),
        post_mm=(89.0, 6.0),
        floor_mm=(rounded(2e3 * half, 10), rounded(1e3 * height, 10), 10.0),
    )
    where = "a third of its length aft of its front" if not there else "abaft the first"
    return given, (
        f"Under {id_in_words(name)}, {where}, on the bottom below. Set x to where the mast "
        "stands."
    )


def hull_plate(around: Surroundings, refusals: tuple[ModelError, ...]) -> tuple[HullPlate, str]:
    """The strake below the sheer amidships, or the next that flat plate can be bent to."""
    names = around.host.lines_up()
    pairs = list(pairwise(names))[::-1]
    pairs = pairs[1:] + pairs[:1] if len(pairs) > 1 else pairs
    low, high = pairs[len(refusals) % len(pairs)]
    deck, shorter = around.deck, 0.8 ** (len(refusals) // len(pairs))
    fore = deck.x(AMIDSHIPS)
    given = HullPlate(
        x_forward_m=rounded(fore),
        x_aft_m=rounded(fore + 0.14 * deck.length * shorter),
        lower_line=low,
        upper_line=high,
        plate_mm=5.0,
        old_plate_mm=5.0,
    )
    return given, f"The strake between {low} and {high} amidships: set its ends and lines."


def plating(around: Surroundings, refusals: tuple[ModelError, ...]) -> tuple[Plating, str]:
    """A level shelf amidships, and how it was chosen."""
    deck = around.deck
    x = rounded(deck.x(0.5))
    aft = rounded(x + SHELF_LENGTH)
    half = rounded(SHELF_HALF * 0.8 ** len(refusals))
    z = rounded(deck.bottom((x, aft), half) + 0.20)
    corners = ((x, -half, z), (aft, -half, z), (aft, half, z), (x, half, z))
    return Plating(corners_m=corners, thickness_mm=4.0), (
        "A level shelf amidships, 200 mm above the bottom at its edge: set its corners."
    )
