"""The line of sight: by hand on boxes, by rays on random boats, moved and mirrored."""

from copy import deepcopy

import numpy as np
import pytest
import trimesh
from other_refits import other_refit
from refits import boat, demo_document

from hullchange.afloat.person_aboard import aboard
from hullchange.geometry.frame import WaterPlane
from hullchange.geometry.surface import Surface, box
from hullchange.person.sight import Lookout, Obstacles, hidden_sectors, seated_eye, standing_eye

EYE = np.array([9.0, 0.0, 3.0])
LEVEL = WaterPlane.at(0.0, 0.0, 0.0, 0.0)
HULL, HOUSE = box(np.array([0, -2, -1]), np.array([10, 2, 1])), ([2, -1, 0], [6, 1, 2])


def boxes(house=HOUSE, by=(0.0, 0.0, 0.0)):
    """Obstacles of a box hull with a box house on it, all moved."""
    moved = [
        Surface.closed(s.vertices + by, s.faces, "box")
        for s in (HULL, box(*map(np.array, house)))
    ]
    return Obstacles.of([("hull", moved[:1]), ("house", moved[1:])]), moved[0]


def seen(obstacles, hull, eye=EYE, water=LEVEL):
    return Lookout.ahead(eye, obstacles, hull).sight(water, "hull")


def test_over_a_box_by_hand():
    """From 3 m over the water, a roof at 2 m 7 m ahead: 1 in 7, so 21 m, 9 to the bow."""
    obstacles, hull = boxes()
    sight = seen(obstacles, hull)
    assert (sight.over, sight.over_at.tolist()) == ("house", [2.0, 0.0, 2.0])
    assert sight.blind == pytest.approx(12.0)
    assert sight.water_at == pytest.approx([-12.0, 0.0, 0.0])
    assert np.tan(sight.down) == pytest.approx(1 / 7)
    assert sight.blind_over_hull == pytest.approx(3.0 * 9.0 / 2.0 - 9.0)


def test_what_would_show_the_water_by_hand():
    obstacles, hull = boxes()
    ahead = Lookout.ahead(EYE, obstacles, hull)
    nearer = ahead.change_for(6.0, "house", LEVEL)
    assert nearer.eye_higher == pytest.approx(2.0 * 15.0 / 8.0 - 3.0)
    assert nearer.lower == pytest.approx(2.0 - 3.0 * 8.0 / 15.0)
    assert ahead.change_for(12.0, "house", LEVEL).eye_higher == pytest.approx(0.0, abs=1e-9)
    assert ahead.change_for(2.0, "house", LEVEL).lower is None  # the bow hides that water too


@pytest.mark.parametrize("blind", [1.0, 6.0, 11.0, 40.0])
def test_an_eye_so_much_higher_and_a_house_so_much_lower_see_just_that_far(blind):
    obstacles, hull = boxes()
    change = Lookout.ahead(EYE, obstacles, hull).change_for(blind, "house", LEVEL)
    higher = seen(obstacles, hull, EYE + [0.0, 0.0, change.eye_higher])
    assert higher.blind == pytest.approx(min(blind, 12.0), abs=1e-6)
    if change.lower:
        low, high = HOUSE
        lower = seen(*boxes((low, [high[0], high[1], high[2] - change.lower])))
        assert lower.blind == pytest.approx(blind, abs=1e-6)


def test_no_water_is_seen_past_what_is_as_high_as_the_eyes():
    sight = seen(*boxes(([2, -1, 0], [6, 1, 3])))
    assert (sight.blind, sight.water_at) == (None, None)
    assert sight.down == pytest.approx(0.0)


def test_trim_by_the_stern_hides_more_water():
    """By hand: the boat turned by 1 in 50 about her bow, eyes and roof turn with her."""
    obstacles, hull = boxes()
    angle = np.arctan(1 / 50)
    turn = np.array([[np.cos(angle), np.sin(angle)], [-np.sin(angle), np.cos(angle)]])
    eye, roof, bow = (turn @ p for p in ([9.0, 3.0], [2.0, 2.0], [0.0, 1.0]))
    slope = (roof[1] - eye[1]) / (eye[0] - roof[0])
    # her foremost point is the bow's top or its foot
    foremost = min(bow[0], (turn @ [0.0, -1.0])[0])
    by_hand = eye[1] / -slope - (eye[0] - foremost)
    trimmed = seen(obstacles, hull, water=WaterPlane.at(0.0, angle, 0.0, 0.0))
    assert trimmed.blind == pytest.approx(by_hand)
    assert trimmed.blind > 12.0


def test_nothing_but_her_own_place_matters():
    by = np.array([3.0, -1.5, 0.7])
    obstacles, hull = boxes(by=by)
    moved = seen(obstacles, hull, EYE + by, WaterPlane(LEVEL.up, 0.7))
    assert moved.blind == pytest.approx(12.0)
    off = np.array([9.0, 0.6, 3.0])
    mirror = off * [1.0, -1.0, 1.0]
    assert seen(*boxes(), off).blind == pytest.approx(seen(*boxes(), mirror).blind)


def test_the_house_hides_the_sector_between_its_after_corners():
    """From 9 m aft, corners 1 m out: past its after corners the view clears beyond 18.4 deg."""
    obstacles, _ = boxes(([2, -1, 0], [6, 1, 2.2]))
    sectors = hidden_sectors(EYE, obstacles, "hull")
    assert [s.over for s in sectors] == ["house"]
    assert (-sectors[0].start, sectors[0].end) == pytest.approx((18.5, 18.5))


def test_eyes_by_hand():
    assert standing_eye(0.5, 1.78) == pytest.approx(2.17)
    assert seated_eye(1.0, 1.78) == pytest.approx(1.8156)


def grazing(one, posture="standing"):
    """(slope, mesh, eye) of what is seen in level water, with all that stands there."""
    eye = one.eye(posture)
    steel = [(part.path, [p.surface() for p in part.part.plates]) for part in one.parts]
    obstacles = Obstacles.of([("hull", [one.hull.surface]), *steel])
    found = Lookout.ahead(eye, obstacles, one.hull.surface).sight(LEVEL, "hull")
    solids = [one.hull.surface, *(s for _, plates in steel for s in plates)]
    meshes = [trimesh.Trimesh(s.vertices, s.faces, process=False) for s in solids]
    return -np.tan(found.down), trimesh.util.concatenate(meshes), eye


def hits(mesh, eye, slopes):
    ways = np.column_stack([-np.ones(len(slopes)), np.zeros(len(slopes)), slopes])
    return mesh.ray.intersects_any(np.repeat(eye[None], len(slopes), axis=0), ways)


@pytest.mark.slow
@pytest.mark.parametrize("seed", [3, 8, 21, 34, 55, 89])
def test_rays_just_above_the_line_are_free_and_just_below_are_not(seed):
    plain = deepcopy(other_refit(seed).plain)
    sheer = plain["hull"]["lines"]["sheer"]["points_m"]
    aft = sheer[-1][0] - 0.15 * (sheer[-1][0] - sheer[0][0])
    # off the centreline, where a ray would run along edges
    plain["person"] = {"helm": {"x_m": aft, "y_m": 0.0137, "floor_z_m": sheer[-1][2]}}
    for one in aboard(boat(plain)):
        if one.roof_over(one.eye("standing")):
            continue
        slope, mesh, eye = grazing(one)
        above = slope + np.array([1e-4, 1e-3, 0.01, 0.05, 0.2, 0.5])
        assert not hits(mesh, eye, above).any()
        assert hits(mesh, eye, np.array([slope - 1e-4])).all()


@pytest.mark.slow
def test_rays_over_a_house_on_a_house_and_with_ends_of_other_heights():
    plain = deepcopy(demo_document())
    plain["changes"]["deckhouse"]["moves"], plain["openings"] = (
        {},
        {},
    )  # what rises with her roof
    house = plain["changes"]["deckhouse"]["parts"]["house"]
    del house["side_height_m"], house["side_windows"], house["front_windows"]
    house |= {"side_height_forward_m": 0.45, "side_height_aft_m": 0.75}
    upper = {
        k: v for k, v in house.items() if k not in ("door", "roof_beams", "side_stiffeners")
    }
    upper |= {"x_forward_m": 5.6, "x_aft_m": 6.8, "stand": "house", "front_rake_deg": 20}
    upper |= {"roof_half_breadth_forward_m": 0.6, "roof_half_breadth_aft_m": 0.7}
    upper |= {"side_height_forward_m": 0.3, "side_height_aft_m": 0.3}
    plain["changes"]["deckhouse"]["parts"]["upper"] = upper
    plain["person"] = {"helm": {"x_m": 9.1, "y_m": 0.0137, "floor_z_m": 1.4}}
    _, refit = aboard(boat(plain))
    slope, mesh, eye = grazing(refit)
    assert not hits(mesh, eye, slope + np.array([1e-4, 1e-3, 0.01, 0.1])).any()
    assert hits(mesh, eye, np.array([slope - 1e-4])).all()
