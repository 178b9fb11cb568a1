"""A handle is where its dimension shows, and goes where that dimension takes it."""

import numpy as np
import pytest
from any_part import dimensions, plausible_dimensions
from hulls import demo_hull, random_hull

from hullchange.boat.profile import HANDLES
from hullchange.errors import ModelError
from hullchange.parts.part import Site
from hullchange.parts.registry import KINDS

HULLS = {
    "demo": demo_hull,
    "one drawn": lambda: random_hull(3),
    "another": lambda: random_hull(8),
}
WITH_HANDLES = sorted(set(KINDS) - {"plating"})
STEP = 0.01  # [m]
CLOSE = 0.15  # of a step: deck and transom slope under what moves
TRIES = 20


def house_on(host, seed):
    plain = plausible_dimensions("deckhouse", host, np.random.default_rng(seed))
    return KINDS["deckhouse"].build(dimensions("deckhouse", plain), Site(host))


def built(kind, host, seed):
    """A part that a hull takes, its dimensions as plain values, and how others are built."""
    draw = np.random.default_rng(seed)

    def part(plain):
        given = dimensions(kind, plain)
        stand = house_on(host, seed) if kind == "mast_support" else None
        return given, KINDS[kind].build(given, Site(host, stand))

    for _ in range(TRIES):
        plain = plausible_dimensions(kind, host, draw)
        try:
            part(plain)
        except ModelError:
            continue
        return plain, part
    pytest.fail(f"no {kind} fits this hull")


def longer(plain, handle, step):
    """The same dimensions, one of them larger."""
    value = plain[handle.key]
    if handle.index is None:
        return plain | {handle.key: value + step}
    row = list(value)
    row[handle.index] += step
    return plain | {handle.key: row}


def test_every_kind_says_what_can_be_grasped():
    assert set(HANDLES) == set(KINDS)


@pytest.mark.parametrize("name", HULLS)
@pytest.mark.parametrize("kind", WITH_HANDLES)
def test_it_moves_as_it_says_with_its_dimension(kind, name):
    plain, part = built(kind, HULLS[name](), 5)
    handles = HANDLES[kind](*part(plain))
    assert any(one.is_main for one in handles)
    moved = 0
    for i, handle in enumerate(handles):
        for step in (STEP, -STEP):
            try:
                after = HANDLES[kind](*part(longer(plain, handle, step)))[i]
            except ModelError:
                continue  # as far as it goes that way
            went = (after.at - handle.at) @ handle.moves / (handle.moves @ handle.moves)
            assert went == pytest.approx(step, abs=CLOSE * STEP), (handle.key, handle.index)
            moved += 1
    assert moved > len(handles)


def test_a_house_with_a_height_at_each_end_has_a_handle_at_each():
    host = demo_hull()
    plain = plausible_dimensions("deckhouse", host, np.random.default_rng(1))
    height = plain.pop("side_height_m")
    plain |= {"side_height_forward_m": height, "side_height_aft_m": height}
    given = dimensions("deckhouse", plain)
    part = KINDS["deckhouse"].build(given, Site(host))
    keys = [one.key for one in HANDLES["deckhouse"](given, part)]
    assert keys == ["side_height_forward_m", "side_height_aft_m", "x_forward_m", "x_aft_m"]


@pytest.mark.parametrize("kind", WITH_HANDLES)
def test_every_handle_names_a_length_of_its_kind(kind):
    plain, part = built(kind, demo_hull(), 5)
    given, made = part(plain)
    for handle in HANDLES[kind](given, made):
        value = getattr(given, handle.key)
        assert isinstance(value if handle.index is None else value[handle.index], float)
        assert handle.key.endswith("_m")
