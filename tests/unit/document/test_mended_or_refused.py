"""A reversed deck, a hole above water, a house sunk into the deck, a well proud of it.

Each is refused, or cut so that it counts once with a finding where a figure is in doubt; none
changes a number silently.
"""

import pytest
from refits import boat, demo_document, with_all

from hullchange.errors import DocumentError, ModelError
from hullchange.geometry.surface import Surface, difference, require_closed, union

HOUSE = "changes.deckhouse.parts.house"
WELL = "changes.cockpit.parts.cockpit"

WITHOUT_WINDOWS = {
    f"{HOUSE}.{name}": None for name in ("side_windows", "front_windows", "door")
}
SUNK = {f"{HOUSE}.side_height_m": 0.05, **WITHOUT_WINDOWS}


def lines(name):
    return demo_document()["hull"]["lines"][name]["points_m"]


def refused_for(by_path):
    with pytest.raises(DocumentError) as refused:
        boat(with_all(demo_document(), by_path))
    return {fault.code for fault in refused.value.faults}


def test_a_deck_the_wrong_way_round_is_refused():
    assert refused_for({"hull.deck.camber_m": -0.06}) == {"out-of-range"}
    sheer, chine = "hull.lines.sheer.points_m", "hull.lines.upper-chine.points_m"
    assert refused_for({sheer: lines("upper-chine"), chine: lines("sheer")}) == {"lines-cross"}
    mirrored = [[x, -y, z] for x, y, z in lines("sheer")]
    assert refused_for({sheer: mirrored}) == {"negative-half-breadth"}


def test_a_sheer_written_from_aft_is_the_same_sheer():
    turned = with_all(demo_document(), {"hull.lines.sheer.points_m": lines("sheer")[::-1]})
    same, sound = (boat(plain).hull.surface for plain in (turned, demo_document()))
    assert same.volume == pytest.approx(sound.volume, rel=1e-12)


def test_a_hole_above_water_is_refused_and_so_is_a_face_turned_round():
    hull = boat(demo_document()).hull.surface
    top = hull.vertices[hull.faces][:, :, 2].mean(axis=1).argmax()
    holed = [k for k in range(len(hull.faces)) if k != top]
    turned = hull.faces.copy()
    turned[top] = turned[top][::-1]
    for faces in (hull.faces[holed], turned):
        with pytest.raises(ModelError) as refused:
            require_closed(Surface.unchecked(hull.vertices, faces), "the hull")
        assert refused.value.code == "open-surface"
    with pytest.raises(ModelError) as refused:
        require_closed(Surface.unchecked(hull.vertices, hull.faces[:, ::-1]), "the hull")
    assert refused.value.code == "inside-out"


@pytest.mark.parametrize(
    ("by_path", "doubted"),
    [
        pytest.param({}, False, id="sound"),
        pytest.param(SUNK, False, id="house sunk"),
        pytest.param(
            {f"{WELL}.deck_z_m": 1.4, f"{WELL}.coaming_top_z_m": 1.6}, True, id="well proud"
        ),
        pytest.param({f"{WELL}.deck_z_m": 0.9}, True, id="well under the deck"),
    ],
)
def test_house_and_well_count_once_however_they_meet_the_deck(by_path, doubted):
    built = boat(with_all(demo_document(), by_path))
    hull, counted = built.hull.surface, built.hull.surface.volume
    whole = hull
    for name, join in (("house", union), ("cockpit", difference)):
        part = built.parts[name]
        counted += part.buoyant_volume
        for body in part.part.bodies:
            whole = join(whole, body.surface)
    # the raw bodies joined to the hull by booleans: another road to the same volume
    assert counted == pytest.approx(whole.volume, abs=2e-4)
    codes = {f.code for f in built.findings if f.place.startswith(WELL)}
    assert ("deck-height-differs" in codes) == doubted
