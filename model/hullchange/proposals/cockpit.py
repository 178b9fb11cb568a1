"""A cockpit for a hull: on the free deck aft, drained above the water, clear of the bottom."""

import numpy as np

from hullchange.errors import ModelError
from hullchange.parts.fields import Span
from hullchange.parts.parameters import Cockpit, Drains, Flats
from hullchange.proposals.surroundings import DeckMeasures, Surroundings, rounded

# proportions are common practice, no source
FORWARD = 0.67  # of the deck's length
CENTRE = 0.40  # where a centre cockpit may begin if there is no room aft
AFTER_DECK = 0.45  # [m] left behind it
LENGTH = 2.2  # [m], or a quarter of the deck
LEAST = (0.70, 0.50, 0.20)  # [m] length, width and depth of a well worth building
WIDTH = 1.70  # [m]
SEAT = 0.34  # [m] below the deck
SOLE_CLEAR = 0.08  # [m] of the sole above the bottom, and above the water so that drains run
FOOT = 0.48  # [m] below the seats
COAMING = 0.20  # [m] above the deck


def cockpit(around: Surroundings, refusals: tuple[ModelError, ...]) -> tuple[Cockpit, str]:
    """A cockpit, and how it was chosen.

    Raises:
        ModelError: ``no-free-deck``, ``no-depth``.
    """
    if isinstance(around.old, Cockpit) and not refusals:
        given = around.old.model_copy(update={"opening": None})
        return given, "Starts from her present cockpit: change what is to be different."
    deck, smaller = around.deck, 0.94 ** len(refusals)
    fore, room, width = _place(around)
    length = rounded(min(LENGTH, room, 0.24 * deck.length) * smaller)
    span, width = (fore, fore + length), rounded(min(width, WIDTH) * smaller)
    deck_z, seat, foot = _depths(deck, span, width)
    foot_length = rounded(0.78 * length)
    given = Cockpit(
        x_forward_m=fore,
        deck_z_m=deck_z,
        coaming_top_z_m=rounded(max(deck_z, deck.z(fore)) + COAMING),
        seat_well_m=(length, width, seat),
        foot_well_m=(foot_length, rounded(np.clip(0.48 * width, 0.24, 0.75)), foot),
        foot_well_forward_m=rounded(fore + 0.1 * length),
        plate_mm=4.0,
        stiffeners=Flats(spacing_m=0.30, flat_mm=(40.0, 4.0)),
        drains=Drains(count=2, diameter_mm=50.0),
    )
    sole = deck_z - seat - foot
    level = f"{1e3 * sole:.0f} mm {'above' if sole >= 0.0 else 'below'}"
    wet = "" if sole >= SOLE_CLEAR - 0.01 else ": too low for drains to run out"
    return given, f"On the free deck from x {fore:.2f} m aft; sole {level} the waterline{wet}."


def _place(around: Surroundings) -> tuple[float, float, float]:
    """x of the forward end, length and width [m] that are free, aft if there is room.

    Raises:
        ModelError: ``no-free-deck``.
    """
    deck, fore = around.deck, around.deck.x(FORWARD)
    near = [aft for _, aft in around.taken if abs(aft - fore) < 0.12 * deck.length]
    found = [_room(around, start) for start in (min([fore, *near]), deck.x(CENTRE))]
    for start, room, wide in found:
        if room >= LEAST[0] and wide >= LEAST[1]:
            return start, room, wide
    _, room, wide = found[0]
    sentence = (
        f"Only {room:.2f} × {max(wide, 0.0):.2f} m of deck are free aft of the house, too "
        "little for a cockpit."
    )
    raise ModelError("no-free-deck", sentence, "x_forward_m")


def _room(around: Surroundings, fore: float) -> tuple[float, float, float]:
    """The longest free stretch aft of a place: its start, length and a well's width [m]."""
    deck = around.deck
    end = deck.host.transom_x - AFTER_DECK
    free = around.free((fore, end)) or ((end, end),)
    start, end = max(free, key=lambda span: span[1] - span[0])
    start = rounded(start + 0.0049)
    room = max(end - start, 0.0)
    aft = start + min(room, LENGTH, 0.24 * deck.length)
    return start, room, 2.0 * (deck.half_breadth(start, aft) - 0.6 * deck.side_deck)


def _depths(deck: DeckMeasures, span: Span, width: float) -> tuple[float, float, float]:
    """Deck beside the well, depth of the seats, depth of the sole below them [m].

    Raises:
        ModelError: ``no-depth``.
    """
    heights = deck.heights(span, width / 2.0)
    deck_z = rounded(heights.mean())
    seat = max(SEAT, deck_z - float(heights.min()) + 0.10)
    seat = min(seat, deck_z - deck.bottom(span, width / 2.0) - 0.10)
    length = span[1] - span[0]
    foot_span = span[0] + 0.1 * length, span[0] + 0.88 * length
    bottom = deck.bottom(foot_span, 0.24 * width)
    sole = max(bottom, 0.0) + SOLE_CLEAR
    foot = float(np.clip(deck_z - seat - sole, 0.0, FOOT))
    if foot < 0.10:  # shallow seats leave some of the depth to the foot well
        seat, foot = max(seat + foot - 0.10, 0.10), 0.10
    if seat + foot < LEAST[2] or deck_z - seat - foot < bottom:
        sentence = (
            f"There are only {1e3 * (deck_z - bottom):.0f} mm between deck and bottom where "
            "it would be, too little for a cockpit."
        )
        raise ModelError("no-depth", sentence, "seat_well_m")
    return deck_z, rounded(seat), rounded(foot - 0.005)
