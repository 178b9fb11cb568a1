"""Windows and doors that do not fit: refused by code, and what the sentence offers does fit."""

import re

import pytest

from hullchange.errors import ModelError
from hullchange.parts.deckhouse import deckhouse
from hullchange.parts.house_shape import house_shape
from hullchange.parts.openings import door_room, front_window_room, side_window_room
from hullchange.parts.part import Site
from hullchange.parts.registry import KINDS

DEMO = KINDS["deckhouse"].example


def with_windows(group, **values):
    windows = getattr(DEMO, group).model_copy(update=values)
    return DEMO.model_copy(update={group: windows})


def number_in(sentence, pattern):
    return float(re.search(pattern, sentence).group(1))


@pytest.mark.parametrize("group", ["side_windows", "front_windows"])
def test_a_window_taller_than_the_wall(host, refusal, group):
    refused = refusal(lambda: deckhouse(with_windows(group, size_m=(0.4, 0.9)), Site(host)))
    assert refused.code == "window-taller-than-wall"
    assert refused.place == f"{group}.size_m"
    offered = number_in(refused.sentence, r"at most (\d\.\d\d) m")
    for height, fits in ((offered, True), (offered + 0.011, False)):
        try:
            deckhouse(with_windows(group, size_m=(0.4, height)), Site(host))
            code = ""
        except ModelError as error:
            code = error.code
        # its place in the wall may still be wrong, but no longer its height
        assert (code != "window-taller-than-wall") is fits


@pytest.mark.parametrize("group", ["side_windows", "front_windows"])
def test_windows_side_by_side(host, refusal, group):
    refused = refusal(lambda: deckhouse(with_windows(group, count=12), Site(host)))
    assert refused.code == "windows-too-wide"
    offered = number_in(refused.sentence, r"at most (\d\.\d\d) m")
    narrow = with_windows(group, count=12, size_m=(offered, 0.24), corner_radius_m=0.02)
    deckhouse(narrow, Site(host))


def builds(given, host):
    try:
        deckhouse(given, Site(host))
    except ModelError:
        return False
    return True


@pytest.mark.parametrize(("count", "width"), [(1, 0.62), (3, 0.62), (4, 0.40)])
def test_the_room_for_side_windows_is_all_there_is(host, count, width):
    room = side_window_room(house_shape(DEMO, host), count, width)
    tall = room.top - room.bottom - 0.02  # the places shift a little with the height
    for up, height, fits in ((0.01, tall, True), (-0.03, tall, False), (0.05, tall, False)):
        windows = {"count": count, "size_m": (width, height), "corner_radius_m": 0.02}
        given = with_windows("side_windows", **windows, lower_edge_z_m=room.bottom + up)
        assert builds(given, host) is fits


def test_the_room_for_front_windows_is_all_there_is(host):
    room = front_window_room(house_shape(DEMO, host), 2, 0.42)
    for height, fits in (
        (room.top - room.bottom - 0.01, True),
        (room.top - room.bottom + 0.03, False),
    ):
        assert builds(with_windows("front_windows", size_m=(0.42, height)), host) is fits
    for width, fits in ((room.width - 0.01, True), (room.width + 0.05, False)):
        assert builds(with_windows("front_windows", size_m=(width, 0.2)), host) is fits


def test_the_room_for_a_door_is_all_there_is(host):
    widest = door_room(house_shape(DEMO, host), DEMO.door.sill_z_m)
    for width, fits in ((widest, True), (widest + 0.1, False)):
        door = DEMO.door.model_copy(update={"width_m": width})
        assert builds(DEMO.model_copy(update={"door": door}), host) is fits


def test_windows_too_tall_for_a_sloping_side_are_told_the_room(host, refusal):
    short = {"x_forward_m": 0.8, "x_aft_m": 4.4, "roof_half_breadth_forward_m": 0.3}
    house = DEMO.model_copy(
        update={**short, "roof_half_breadth_aft_m": 0.9, "front_windows": None, "door": None}
    )
    shape = house_shape(house, host)
    room = side_window_room(shape, 2, 0.5)
    wall = float(-shape.side_wall.foot[:, 1].max()) - 0.06
    windows = {"count": 2, "size_m": (0.5, wall), "lower_edge_z_m": room.bottom - 0.005}
    glazed = DEMO.side_windows.model_copy(update=windows)
    refused = refusal(
        lambda: deckhouse(house.model_copy(update={"side_windows": glazed}), Site(host))
    )
    assert refused.code == "window-outside-wall"
    assert number_in(refused.sentence, r"between z (\d\.\d\d)") == pytest.approx(
        room.bottom, abs=0.02
    )


@pytest.mark.parametrize(("level", "word"), [(1.10, "raise"), (1.62, "lower")])
def test_side_windows_at_the_wrong_height(host, refusal, level, word):
    wrong = with_windows("side_windows", lower_edge_z_m=level)
    refused = refusal(lambda: deckhouse(wrong, Site(host)))
    assert refused.code == "window-outside-wall"
    assert refused.place == "side_windows.lower_edge_z_m"
    assert word in refused.sentence
    offered = number_in(refused.sentence, r"to z (\d\.\d\d) m")
    nudge = 0.005 if word == "raise" else -0.005
    deckhouse(with_windows("side_windows", lower_edge_z_m=offered + nudge), Site(host))


def test_a_lower_house_refuses_windows_that_no_longer_fit(host, refusal):
    low = DEMO.model_copy(update={"side_height_m": 0.25})
    assert refusal(lambda: deckhouse(low, Site(host))).code == "window-taller-than-wall"


@pytest.mark.parametrize("group", ["side_windows", "front_windows"])
def test_corners_rounder_than_half_the_window(host, refusal, group):
    refused = refusal(lambda: deckhouse(with_windows(group, corner_radius_m=0.13), Site(host)))
    assert refused.code == "corner-radius-too-large"


@pytest.mark.parametrize(
    ("values", "code", "place"),
    [
        ({"width_m": 2.9}, "door-outside-wall", "door.width_m"),
        ({"sill_z_m": 1.75}, "door-outside-wall", "door.sill_z_m"),
        ({"corner_radius_m": 0.4}, "corner-radius-too-large", "door.corner_radius_m"),
    ],
)
def test_doors(host, refusal, values, code, place):
    door = DEMO.door.model_copy(update=values)
    wrong = DEMO.model_copy(update={"door": door})
    refused = refusal(lambda: deckhouse(wrong, Site(host)))
    assert (refused.code, refused.place) == (code, place)


def test_sharp_corners_are_allowed(host):
    door = DEMO.door.model_copy(update={"corner_radius_m": 0.0})
    sharp = with_windows("side_windows", corner_radius_m=0.0)
    part = deckhouse(sharp.model_copy(update={"door": door}), Site(host))
    assert all(len(hole.segments) == 4 for hole in part.plates[0].holes)
