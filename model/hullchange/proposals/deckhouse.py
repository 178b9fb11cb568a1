"""A deckhouse for a hull: on the free deck, with side decks, headroom and windows that fit."""

from dataclasses import dataclass, replace
from itertools import product
from math import ceil, floor, radians, tan

import numpy as np

from hullchange.errors import ModelError
from hullchange.geometry.host import Host
from hullchange.parts.fields import Span
from hullchange.parts.house_shape import HouseShape, house_shape, with_end_heights
from hullchange.parts.openings import door_room, front_window_room, side_window_room
from hullchange.parts.parameters import Deckhouse, Door, Flats, SideWindows, Windows
from hullchange.proposals.surroundings import FOOT, DeckMeasures, Surroundings, rounded

# proportions are common practice, no source
ALONG = (0.31, 0.66)  # of the deck's length, where a house stands if nothing is in its way
LEAST_LENGTH = 1.2  # [m]
SHORT = 0.7  # of the usual length: a house pushed aft is drawn out to it
HEADROOM = 1.85  # [m] under the middle of the roof
SOLE = 0.15  # [m] of the cabin, above the bottom
SOLE_HALF = 0.25  # [m] half-breadth that the sole needs to stand on
LEAN_DEG, RAKE_DEG = 12.0, 35.0
HIGHER = 0.10  # [m] than the old house
LEAST_PANE = (0.24, 0.12)  # [m] smallest window worth cutting
PANE = 0.36  # of the side's height
WIDEST_PANE = 0.62  # [m]
LEAST_DOOR = 0.40  # [m]
BEAMS = Flats(spacing_m=0.40, flat_mm=(50.0, 5.0))
STIFFENERS = Flats(spacing_m=0.40, flat_mm=(40.0, 4.0))
OPENINGS = ("side_windows", "front_windows", "door")
ENDS = ("side_height_forward_m", "side_height_aft_m")
STEP = 0.02  # [m] by which windows are lowered until they fit
MOST_HEADROOM = 1.95  # [m]: in a deeper hull the sole is laid higher


@dataclass(frozen=True)
class _House:
    """What is chosen before windows: the stretch of deck and a few sizes [m]."""

    span: Span
    side: float
    inset: float
    rake_deg: float
    camber: float
    plates: tuple[float, float, float] = (3.0, 3.0, 3.0)


def deckhouse(around: Surroundings, refusals: tuple[ModelError, ...]) -> tuple[Deckhouse, str]:
    """A house, and how it was chosen.

    Raises:
        ModelError: ``no-free-deck``.
    """
    if isinstance(around.old, Deckhouse) and (around.raised or len(refusals) < 3):
        if around.raised and len(refusals) > 1:
            raise refusals[-1]
        return _like_old(around, around.old, len(refusals))
    codes = tuple(e.code for e in refusals)
    panes = sum("window" in code for code in codes)
    chosen = _adjusted(_first(around), tuple(code for code in codes if "window" not in code))
    bare = _without_openings(around.deck, chosen)
    try:
        shape = house_shape(bare, around.host)
    except ModelError:
        return bare, ""  # refused when it is built, and tried otherwise
    given, words = _with_openings(bare, shape, STEP * panes)
    return given, f"{_chosen_words(around, chosen, bare)}{words}"


def _sides(house: Deckhouse) -> tuple[float, ...]:
    """Heights of a house's side [m]: the one that is given, or those of both ends."""
    return house.end_heights_m or (house.side_height_m or 0.0,)


def _like_old(around: Surroundings, old: Deckhouse, tries: int) -> tuple[Deckhouse, str]:
    """The old house raised, with what is not given of it; as it is where that is refused."""
    heights, words = _raised(around, old, HIGHER if tries < 2 else 0.0)
    given = old.model_copy(update={**heights, "opening": None})
    try:
        whole, _ = _with_openings(given, house_shape(given, around.host), 0.0)
    except ModelError:
        return given, words
    usual = {"roof_beams": BEAMS, "side_stiffeners": STIFFENERS}
    fitted = {**{key: getattr(whole, key) for key in OPENINGS}, **usual}
    added = {key: group for key, group in fitted.items() if getattr(old, key) is None and group}
    if tries or not added:
        return given, words
    names = ", ".join(key.replace("_", " ") for key in added)
    return given.model_copy(
        update=added
    ), f"{words} Not known of the old house, so chosen to fit: {names}."


def _raised(
    around: Surroundings, old: Deckhouse, up: float
) -> tuple[dict[str, float | None], str]:
    """Heights of the old house's sides raised [m]: as asked at both ends, or alike."""
    if around.raised is not None:
        raised = raised_ends(old, around.old_ground or around.host, around.raised)
        more = " and ".join(
            f"{1e3 * by:+.0f} mm {end}"
            for by, end in zip(around.raised, ("forward", "aft"), strict=True)
        ).replace("-", "\N{MINUS SIGN}")
        return raised, (
            f"Like the old house, in its place and as wide, {more}: sides "
            f"{raised[ENDS[0]]:.2f} m high forward and {raised[ENDS[1]]:.2f} m aft."
        )
    sides = [rounded(side + up) for side in _sides(old)]
    side = sum(sides) / len(sides)
    higher = f", {1e3 * up:.0f} mm higher" if up else ""
    keys = ("side_height_m",) if len(sides) == 1 else ENDS
    words = f"Like the old house, in its place and as wide{higher}: sides {side:.2f} m high."
    return dict(zip(keys, sides, strict=True)), words


def raised_ends(
    old: Deckhouse, ground: Host, raised: tuple[float, float]
) -> dict[str, float | None]:
    """Heights of a house's sides [m], to the millimetre, with each end raised by its own.

    Args:
        old: the house.
        ground: what it stands on.
        raised: forward and aft [m].
    """
    ends = with_end_heights(old, ground).end_heights_m or (0.0, 0.0)
    heights = [round(end + by, 3) for end, by in zip(ends, raised, strict=True)]
    return {"side_height_m": None, **dict(zip(ENDS, heights, strict=True))}


def _first(around: Surroundings) -> _House:
    deck = around.deck
    span = _span(around)
    middle = sum(span) / 2.0
    camber = rounded(np.clip(0.018 * deck.beam, 0.04, 0.10), 0.005)
    at_side = deck.z(middle, max(deck.half_breadth(middle) - deck.side_deck, 0.0))
    # long boats carry higher houses; lower than this and no window fits
    least = float(np.clip(0.035 * deck.length, 0.36, 0.50))
    side = float(np.clip(_sole(deck, middle) + HEADROOM - camber - at_side, least, 0.62))
    return _House(span, rounded(side), deck.side_deck, RAKE_DEG, camber)


def _span(around: Surroundings) -> Span:
    """The longest free stretch of deck near the middle, clear of steps in the sheer.

    Raises:
        ModelError: ``no-free-deck``.
    """
    deck = around.deck
    within, wanted = (deck.x(0.12), deck.x(0.88)), (deck.x(ALONG[0]), deck.x(ALONG[1]))
    fore, aft = _best(around.free(within, deck.steps), wanted)
    if aft - fore < LEAST_LENGTH:
        fore, aft = _best(around.free(within), wanted)
    if aft - fore < LEAST_LENGTH:
        sentence = (
            f"Only {max(aft - fore, 0.0):.2f} m of deck are free between the parts on it, too "
            "little for a house. Name the part it replaces, or move one."
        )
        raise ModelError("no-free-deck", sentence, "x_forward_m")
    if fore in [end for _, end in around.taken]:
        fore += FOOT
    return fore, min(aft, fore + wanted[1] - wanted[0])


def _best(free: tuple[Span, ...], wanted: Span) -> Span:
    """What of a free stretch lies where it is wanted, if enough does; else the longest."""
    for fore, aft in sorted(free, key=lambda span: span[0] - span[1]):
        start, end = max(fore, wanted[0]), min(aft, wanted[1])
        if end - start >= LEAST_LENGTH:
            # pushed aft, it may reach a little further aft
            return start, min(aft, max(end, start + SHORT * (wanted[1] - wanted[0])))
    return max(free, key=lambda span: span[1] - span[0], default=(0.0, 0.0))


def _sole(deck: DeckMeasures, x: float) -> float:
    """Height [m] of the cabin sole: above the bottom, where it is wide enough to stand on."""
    wide = float(deck.host.bottom_z(np.array([x]), np.array([SOLE_HALF]))[0])
    return max(deck.bottom((x, x), 0.0) + SOLE, wide + 0.03)


def _adjusted(first: _House, codes: tuple[str, ...]) -> _House:
    """The house after what it was refused for: raised, narrowed, less raked, shortened."""
    fore, aft = first.span
    shorter = codes.count("deck-above-roof") // 2 + len(codes) // 4
    cut = min(0.06 * shorter, 0.5) * (aft - fore)
    return replace(
        first,
        # the step of a sheer, and the rise of a bow, lie forward
        span=(fore + cut, aft) if "deck-above-roof" in codes else (fore, aft - cut),
        side=rounded(first.side + 0.05 * min(codes.count("deck-above-roof"), 4)),
        inset=first.inset + 0.03 * codes.count("house-wider-than-deck"),
        rake_deg=max(0.0, first.rake_deg - 15.0 * codes.count("roof-without-length")),
        camber=rounded(first.camber * 0.6 ** codes.count("roof-too-round"), 0.005),
    )


def _without_openings(deck: DeckMeasures, chosen: _House) -> Deckhouse:
    fore, aft = chosen.span
    inset = chosen.inset + chosen.side * tan(radians(LEAN_DEG))
    breadths = [
        float(np.clip(deck.half_breadth(x) - inset, 0.15, 0.36 * deck.beam))
        for x in chosen.span
    ]
    roof, side, end = chosen.plates
    return Deckhouse(
        x_forward_m=_up(fore),
        x_aft_m=_down(aft),
        # narrower forward at most; a house that widens forward looks odd and rolls hard
        roof_half_breadth_forward_m=rounded(min(breadths[0], 1.05 * breadths[1])),
        roof_half_breadth_aft_m=rounded(breadths[1]),
        side_height_m=chosen.side,
        tumblehome_deg=LEAN_DEG,
        front_rake_deg=chosen.rake_deg,
        roof_camber_m=max(chosen.camber, 0.01),
        roof_plate_mm=roof,
        side_plate_mm=side,
        end_plate_mm=end,
        roof_beams=BEAMS,
        side_stiffeners=STIFFENERS,
    )


def _with_openings(bare: Deckhouse, shape: HouseShape, spare: float) -> tuple[Deckhouse, str]:
    """The house with windows and door; ``spare``: height [m] that is left over them."""
    side, front = _side_windows(bare, shape, spare), _front_windows(bare, shape, spare)
    door = _door(shape)
    given = bare.model_copy(update={"side_windows": side, "front_windows": front, "door": door})
    none = [
        word
        for word, group in (("side windows", side), ("front windows", front), ("door", door))
        if group is None
    ]
    return given, f" No room for {' and '.join(none)}." if none else ""


def _side_windows(bare: Deckhouse, shape: HouseShape, spare: float) -> SideWindows | None:
    """As much glass as the side has room for in few panes of usual proportions."""
    length = bare.x_aft_m - bare.x_forward_m
    most = int(np.clip(length // 1.2, 1, 5))
    best: SideWindows | None = None
    for count, share in product(range(most, 0, -1), (0.5, 0.35, 0.25)):
        width = _down(min(WIDEST_PANE, share * length / count))
        if width < LEAST_PANE[0]:
            continue
        room = side_window_room(shape, count, width)
        height = _down(min(PANE * min(_sides(bare)), room.top - room.bottom - STEP - spare))
        if width > room.width or height < LEAST_PANE[1]:
            continue
        if best is None or width * height * count > 1.3 * _area(best):
            low = room.bottom + 0.5 * (room.top - room.bottom - height)
            best = SideWindows(
                count=count,
                size_m=(width, height),
                corner_radius_m=0.04,
                lower_edge_z_m=rounded(low),
            )
    return best


def _area(windows: Windows) -> float:
    return windows.count * windows.size_m[0] * windows.size_m[1]


def _front_windows(bare: Deckhouse, shape: HouseShape, spare: float) -> Windows | None:
    half = bare.roof_half_breadth_forward_m
    for count in (2, 1):
        width = _down(min(0.42, 1.1 * half / count))
        room = front_window_room(shape, count, width)
        height = _down(min(0.30 * min(_sides(bare)), room.top - room.bottom - spare))
        if LEAST_PANE[0] <= width <= room.width and height >= 0.08:
            return Windows(count=count, size_m=(width, height), corner_radius_m=0.04)
    return None


def _door(shape: HouseShape) -> Door | None:
    sill = rounded(_up(float(shape.foot_between(shape.after, 0.0, 0.0, 1)[0, 2])) + 0.02)
    width = _down(min(0.62, door_room(shape, sill)))
    return Door(width_m=width, sill_z_m=sill) if width >= LEAST_DOOR else None


def _chosen_words(around: Surroundings, chosen: _House, given: Deckhouse) -> str:
    deck, middle = around.deck, (given.x_forward_m + given.x_aft_m) / 2.0
    breadths = given.roof_half_breadth_forward_m, given.roof_half_breadth_aft_m
    foot = sum(breadths) / 2.0 + chosen.side * tan(radians(LEAN_DEG))
    crown = deck.z(middle, foot) + chosen.side + chosen.camber
    sole = max(_sole(deck, middle), crown - MOST_HEADROOM)
    stands = "" if crown - sole >= HEADROOM - 0.02 else ", less than standing height"
    return (
        f"Side decks {deck.half_breadth(middle) - foot:.2f} m, headroom {crown - sole:.2f} m"
        f"{stands}, over a sole {1e3 * (sole - deck.bottom((middle, middle), 0.0)):.0f} mm "
        f"above the bottom; on {given.x_aft_m - given.x_forward_m:.1f} m of free deck."
    )


def _down(length: float) -> float:
    """A length [m] to the centimetre below."""
    return floor(length * 100.0 + 1e-6) / 100.0


def _up(length: float) -> float:
    return ceil(length * 100.0 - 1e-6) / 100.0
