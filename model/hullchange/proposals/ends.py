"""What is built on at the ends of a hull: transom extension, bow platform."""

import numpy as np

from hullchange.errors import ModelError
from hullchange.parts.bulwark_parameters import Bulwark, FreeingPorts
from hullchange.parts.parameters import BowPlatform, TransomExtension
from hullchange.plain_words import id_in_words
from hullchange.proposals.surroundings import Surroundings, rounded

# proportions are common practice, no source
LEAST_STERN = 0.30  # [m] half-breadth of a transom that a step is built on
ABOVE_WATER = 0.12  # [m] of an extension's bottom where the transom lets it
STEP = 0.45  # [m] of its platform above the water, at most


def transom_extension(
    around: Surroundings, refusals: tuple[ModelError, ...]
) -> tuple[TransomExtension, str]:
    """A step behind the transom, and how it was chosen.

    Raises:
        ModelError: ``no-transom``, ``place-taken``.
    """
    _require_free(around, TransomExtension, "transom")
    outline = around.host.transom_outline()
    half = float(outline[:, 1].max())
    if half < LEAST_STERN:
        sentence = f"The stern is {2e3 * half:.0f} mm wide, so there is no transom to extend."
        raise ModelError("no-transom", sentence)
    low, corner = float(outline[0, 2]), float(outline[-1, 2])
    tries, depth = len(refusals), corner - low
    clear = min(max(ABOVE_WATER, low + 0.02), low + 0.4 * depth)
    bottom = clear + 0.03 * depth * tries
    top = corner - 0.02 - 0.03 * tries
    deck = min(max(bottom + 0.35 * depth, bottom + 0.25), max(STEP, bottom + 0.25), top)
    turns = any(e.code == "transom-outline-turns-down" for e in refusals)
    aft = bottom if turns else min(bottom + 0.05, deck - 0.10)
    given = TransomExtension(
        length_m=0.60,
        bottom_forward_z_m=rounded(bottom),
        bottom_aft_z_m=rounded(aft),
        platform_z_m=rounded(deck),
        plate_mm=4.0,
    )
    clear_words = "clear of the water" if bottom > 0.0 else "in the water"
    return given, (
        f"On the transom, z {low:.2f} to {corner:.2f} m: bottom {clear_words}, platform "
        f"{1e3 * given.platform_z_m:.0f} mm above it."
    )


def bow_platform(
    around: Surroundings, refusals: tuple[ModelError, ...]
) -> tuple[BowPlatform, str]:
    """A platform over the stem, and how it was chosen.

    Raises:
        ModelError: ``place-taken``.
    """
    _require_free(around, BowPlatform, "stem")
    deck, tries = around.deck, len(refusals)
    on_deck = rounded(0.30 + 0.05 * min(tries, 6))
    length = rounded(float(np.clip(0.075 * deck.length, 0.55, 1.10)) + on_deck - 0.30)
    width = rounded(np.clip(1.8 * deck.half_breadth(deck.host.stem_x + on_deck), 0.34, 0.50))
    over = length - on_deck
    given = BowPlatform(
        length_m=length,
        width_m=width,
        top_plate_mm=6.0,
        cheek_plate_mm=10.0,
        on_deck_m=on_deck,
        corner_radius_m=0.06,
        bracket_m=(rounded(min(0.35, 0.7 * over)), rounded(max(0.25 * 0.85**tries, 0.05))),
        roller_slot_mm=(90.0 * 0.9 ** max(tries - 6, 0), rounded(750.0 * min(over, 0.56), 10)),
    )
    return given, (
        f"{1e2 * length / deck.length:.0f} % of the deck's length, {1e3 * over:.0f} mm over "
        f"the stem; {1e3 * width:.0f} mm wide, like the deck {on_deck:.2f} m aft of it."
    )


def _require_free(
    around: Surroundings, kind: type[TransomExtension | BowPlatform | Bulwark], where: str
) -> None:
    there = around.of_kind(kind)
    if there:
        sentence = f"The {where} already carries {id_in_words(there[0])}: change that one."
        raise ModelError("place-taken", sentence)


def bulwark(around: Surroundings, refusals: tuple[ModelError, ...]) -> tuple[Bulwark, str]:
    """A bulwark round the foredeck, and how it was chosen.

    Raises:
        ModelError: ``place-taken``.
    """
    _require_free(around, Bulwark, "deck's edge")
    deck, tries = around.deck, len(refusals)
    fore, aft = deck.x(0.03 + 0.02 * tries), deck.x(max(0.42 - 0.02 * tries, 0.15))
    height = rounded(float(np.clip(0.022 * deck.length, 0.12, 0.30)))
    ports = FreeingPorts(count=2, size_m=(0.25, 0.05), above_deck_m=0.02)
    given = Bulwark(
        x_forward_m=rounded(fore),
        x_aft_m=rounded(aft),
        height_forward_m=height,
        height_aft_m=height,
        flare_deg=max(5.0 - tries, 0.0),
        plate_mm=4.0,
        cap_rail_mm=(60.0, 8.0) if tries < 2 else None,
        freeing_ports=ports if tries < 4 else None,
    )
    return given, (
        f"Around the foredeck, x {given.x_forward_m:.2f} to {given.x_aft_m:.2f} m along the "
        f"deck edge, {1e3 * height:.0f} mm high."
    )
