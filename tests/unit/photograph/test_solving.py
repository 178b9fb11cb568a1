"""Cameras solved from marks: exact ones found again, noisy ones as near as the noise allows."""

from dataclasses import replace

import numpy as np
import pytest

from hullchange.errors import ModelError
from hullchange.photograph.camera import Camera, rotation
from hullchange.photograph.solving import PickedMark, solved

SIZE = (4000, 3000)
MARKS = {
    **{"stem": [-0.95, 0.0, 1.5], "transom-port": [10.95, -1.08, 1.13]},
    **{"transom-starboard": [10.95, 1.08, 1.13], "forward": [0.3, 0.78, 1.386]},
    **{"midships": [5.0, 1.86, 1.125], "house-forward": [3.3, -0.75, 1.75]},
    **{"house-aft": [7.0, 1.1, 1.68], "house-foot": [3.0, 0.85, 1.25]},
    **{"keel": [6.75, 0.0, -1.85], "aft": [9.0, 1.5, 1.1]},
}
HOUSE = np.array([[3.3, 0.78, 1.95], [7.0, 1.14, 1.86], [7.0, -1.14, 1.86], [5.0, 0.0, 2.0]])


def looking(at, towards, focal, *, roll=0.0, radial=0.0):
    """A camera that looks from one place to another, the picture's middle on the axis."""
    ahead = np.subtract(towards, at) / np.linalg.norm(np.subtract(towards, at))
    right = np.cross(ahead, [0.0, 0.0, 1.0])
    right /= np.linalg.norm(right)
    # x aft, y to starboard, z up is right-handed: right x down = ahead
    turn = np.array([right, np.cross(ahead, right), ahead])
    turn = rotation(np.array([0.0, 0.0, roll])) @ turn
    return Camera(np.array(at, float), turn, focal, np.array(SIZE) / 2.0, radial)


def picked(camera, noise=0.0, rng=None, marks=MARKS):
    points = np.array(list(marks.values()))
    pixels = camera.pixels(points)
    if noise:
        pixels = pixels + rng.normal(0.0, noise, pixels.shape)
    return tuple(
        PickedMark(name, name, point, pixel)
        for name, point, pixel in zip(marks, points, pixels, strict=True)
    )


def drawn(rng):
    """A camera ashore or afloat: 8 to 30 m off, 0.5 to 6 m up, from any side."""
    bearing, away = rng.uniform(0.0, 2.0 * np.pi), rng.uniform(8.0, 30.0)
    at = [5.0 - away * np.cos(bearing), away * np.sin(bearing), rng.uniform(0.5, 6.0)]
    towards = [5.0 + rng.uniform(-1, 1), rng.uniform(-0.5, 0.5), rng.uniform(0.3, 1.5)]
    unit = looking(at, towards, 1.0, roll=rng.normal(0.0, 0.03))
    extent = np.ptp(unit.pixels(np.array(list(MARKS.values()))), axis=0)
    # she fills two thirds of the picture
    return replace(unit, focal=float(0.66 * (np.array(SIZE) / extent).min()))


def test_a_camera_by_hand():
    """From 20 m abeam to starboard, level: a metre is focal / 20 px, the bow to the right."""
    camera = looking([5.0, 20.0, 1.0], [5.0, 0.0, 1.0], 4000.0)
    pixels = camera.pixels(np.array([[5.0, 0.0, 1.0], [4.0, 0.0, 1.0], [5.0, 0.0, 2.0]]))
    assert pixels == pytest.approx(np.array([[2000, 1500], [2200, 1500], [2000, 1300]]))


def test_exact_marks_give_the_camera_back():
    for seed in range(40):
        camera = drawn(np.random.default_rng(seed))
        found = solved(picked(camera), SIZE)
        assert found.rms < 1e-3
        assert found.camera.at == pytest.approx(camera.at, abs=1e-3)
        assert found.camera.pixels(HOUSE) == pytest.approx(camera.pixels(HOUSE), abs=1e-2)


def test_a_lens_that_bends_is_found_too():
    rng = np.random.default_rng(5)
    plain = drawn(rng)
    camera = Camera(plain.at, plain.turn, plain.focal, plain.middle, -0.08)
    bent = solved(picked(camera), SIZE)
    assert bent.camera.radial == pytest.approx(-0.08, abs=1e-4)
    assert bent.camera.pixels(HOUSE) == pytest.approx(camera.pixels(HOUSE), abs=0.05)


@pytest.mark.slow
def test_two_hundred_cameras_with_marks_a_few_pixels_off():
    """The new house lies within some mm of where it would be: 1 to 3 px, 200 cameras."""
    off = []
    for seed in range(200):
        rng = np.random.default_rng(seed)
        camera, noise = drawn(rng), rng.uniform(1.0, 3.0)
        found = solved(picked(camera, noise, rng), SIZE)
        away = np.linalg.norm(found.camera.pixels(HOUSE) - camera.pixels(HOUSE), axis=1)
        off.append(1000.0 * away * camera.depth(HOUSE) / camera.focal / noise)
    off = np.array(off)  # mm at the boat for each px of noise
    assert np.sqrt(np.mean(off**2)) < 8.0
    assert np.quantile(off, 0.95) < 15.0


def refused(marks):
    with pytest.raises(ModelError) as error:
        solved(marks, SIZE)
    return error.value


def test_marks_that_cannot_do_are_refused_with_the_remedy():
    camera = drawn(np.random.default_rng(1))
    few = picked(camera)[:5]
    assert refused(few).code == "too-few-marks"
    assert refused((*few, few[0])).code == "too-few-marks"
    flat = {name: [x, 0.0, z] for name, (x, y, z) in MARKS.items()}
    flat = {name: [x + 0.1 * k, 0.0, z] for k, (name, (x, _, z)) in enumerate(flat.items())}
    assert refused(picked(camera, marks=flat)).code == "marks-on-a-plane"
    line = {name: [x, 0.0, 1.0 + 0.1 * x] for name, (x, _, _) in MARKS.items()}
    assert "of one line" in refused(picked(camera, marks=line)).sentence
    far = looking([5.0, 300.0, 2.0], [5.0, 0.0, 1.0], 4000.0)
    assert refused(picked(far)).code == "marks-clustered"


def blamed(marks):
    """The mark that a refusal names, or else the one that is furthest off."""
    try:
        found = solved(marks, SIZE)
    except ModelError as error:
        return error.place.removeprefix("marks.")
    return marks[int(np.argmax(found.off))].id


def test_the_mark_on_the_wrong_side_is_named():
    named = 0
    for seed in range(6):
        camera = drawn(np.random.default_rng(seed))
        marks = list(picked(camera))
        wrong = camera.pixels(np.array([[7.0, -1.1, 1.68]]))[0]
        right = next(k for k, mark in enumerate(marks) if mark.id == "house-aft")
        if np.linalg.norm(wrong - marks[right].pixel) < 250.0:
            continue  # nearly one behind the other: hardly wrong
        marks[right] = replace(marks[right], pixel=wrong)
        named += blamed(tuple(marks)) == "house-aft"
    assert named >= 3


def test_where_the_boat_is_taped_from_does_not_matter():
    camera, by = drawn(np.random.default_rng(9)), np.array([100.0, -3.0, 2.0])
    marks = picked(camera, 2.0, np.random.default_rng(0))
    moved = tuple(replace(m, at=m.at + by) for m in marks)
    here, there = (solved(m, SIZE).camera for m in (marks, moved))
    assert there.pixels(HOUSE + by) == pytest.approx(here.pixels(HOUSE), abs=0.01)


def test_sides_taken_for_each_other_are_told_from_other_mistakes():
    marks = picked(drawn(np.random.default_rng(4)))
    turned = tuple(replace(m, pixel=m.pixel * [-1, 1] + [SIZE[0], 0]) for m in marks)
    told = refused(turned)
    assert (told.code, told.place) == ("sides-swapped", "marks")
    assert "mirrored" in told.sentence
    port, starboard = marks[1:3]
    swapped = (marks[0], replace(port, at=starboard.at), replace(starboard, at=port.at))
    told = refused((*swapped, *marks[3:]))
    assert told.code == "sides-swapped"
    assert "these two swapped: transom-port; transom-starboard" in told.sentence


def test_a_cropped_picture_costs_little_where_marks_are_enough():
    """A third of the width cut off one side, marks 3 px off: house within 100 mm."""
    for seed in range(12):
        rng = np.random.default_rng(seed)
        whole = drawn(rng)
        camera = replace(whole, middle=whole.middle + [0.3 * SIZE[0], 0.0])
        found = solved(picked(camera, 3.0, rng), SIZE)
        away = np.linalg.norm(found.camera.pixels(HOUSE) - camera.pixels(HOUSE), axis=1)
        assert (1000.0 * away * camera.depth(HOUSE) / camera.focal).max() < 100.0
