"""The old house raised by different amounts at both ends, in one edit."""

from pathlib import Path

import pytest
from other_refits import other_refit

from hullchange.boat.boat import boat_of
from hullchange.boat.openings import edges_of
from hullchange.boat.raised_house import raised_house
from hullchange.document.reading import document_of
from hullchange.document.yaml_text import parsed
from hullchange.errors import ModelError
from hullchange.parts.house_shape import end_heights, side_height
from hullchange.parts.parameters import Deckhouse

EXAMPLES = Path(__file__).parents[3] / "examples"
BY = (0.06, 0.18)
HOUSES = [
    ("saltmarrow", "old-house"),
    ("brackwren", "old-house"),
    ("fernskerry", "old-deckhouse"),
    ("fernskerry", "old-aft-cabin"),
]


def plain_of(name):
    return parsed((EXAMPLES / f"{name}.yaml").read_text(encoding="utf-8")).document()


def read(plain):
    return document_of(plain, EXAMPLES)


def with_values(plain, values):
    """A document with values set by path."""
    for path, value in values:
        *above, last = path.split(".")
        inside = plain
        for key in above:
            inside = inside.setdefault(key, {})
        inside[last] = value
        if value is None:
            del inside[last]
    return plain


def checked(plain, old, by=BY):
    """The refit with the house raised: its boat, and its path."""
    before = read(plain)
    values = raised_house(before, f"existing.{old}", *by).values
    boat = boat_of(read(with_values(plain, values)))
    (change,) = (n for n, c in boat.document.changes.items() if c.replaces == f"existing.{old}")
    (house,) = (
        p
        for p in boat.document.changes[change].parts.values()
        if isinstance(p, Deckhouse) and p.stand is None
    )
    was = before.existing[old]
    ends = end_heights(was, boat.hull.bare)
    wanted = [e + b for e, b in zip(ends, by, strict=True)]
    assert house.end_heights_m == pytest.approx(wanted, abs=6e-4)
    assert (house.x_forward_m, house.x_aft_m) == (was.x_forward_m, was.x_aft_m)
    return boat


@pytest.mark.parametrize(("name", "old"), HOUSES)
def test_the_house_that_is_planned_is_raised_from_the_old_one(name, old):
    checked(plain_of(name), old)


@pytest.mark.parametrize(("name", "old"), HOUSES)
def test_a_house_that_nothing_replaces_is_raised_in_a_new_change(name, old):
    plain = {
        k: v for k, v in plain_of(name).items() if k in ("format", "boat", "hull", "water")
    }
    plain |= {"existing": {old: plain_of(name)["existing"][old]}}
    plain |= {"survey": {k: v for k, v in plain_of(name)["survey"].items() if k != "aboard"}}
    boat = checked(plain, old)
    assert boat.document.changes["raised-house"].parts.keys() == {"house"}
    assert boat.parts["house"].steel.mass > 50.0


def test_what_rose_with_the_one_height_rises_with_the_nearer_end():
    plain = plain_of("saltmarrow")
    boat = checked(plain, "old-house")
    moves = boat.document.changes["deckhouse"].moves
    house = "changes.deckhouse.parts.house"
    assert moves["rig"].rises_with.path == f"{house}.side_height_forward_m"
    dorade = boat.document.openings["fore-dorade"].rises_with
    assert dorade.path == f"{house}.side_height_forward_m"
    rows = {entry.weight.path: entry for entry in boat.entries}
    rig = rows["changes.deckhouse.moves.rig"]
    assert rig.to[2] - rig.weight.centre[2] == pytest.approx(BY[0], abs=6e-4)


def random_houses(count):
    """(seed, document, name of the old house) of random refits that have one."""
    found, seed = 0, 40
    while found < count:
        plain = other_refit(seed).plain
        old = next((n for n, p in plain["existing"].items() if p["kind"] == "deckhouse"), None)
        if old:
            found += 1
            plain = {
                k: v for k, v in plain.items() if k in ("format", "boat", "hull", "survey")
            }
            plain["survey"] = {k: v for k, v in plain["survey"].items() if k != "aboard"}
            yield (
                seed,
                plain | {"existing": {old: other_refit(seed).plain["existing"][old]}},
                old,
            )
        seed += 1


def test_houses_of_random_boats_are_raised_at_either_end():
    for _, plain, old in random_houses(6):
        for by in ((0.05, 0.16), (0.14, 0.03)):
            checked(plain | {}, old, by)


def test_an_opening_rises_with_an_end_that_the_old_house_does_not_give():
    plain = plain_of("brackwren")
    tie = "changes.deckhouse.parts.house.side_height_aft_m"
    edge = [[4.7, -0.2, 1.5], [4.7, 0.2, 1.5], [5.0, 0.2, 1.5], [5.0, -0.2, 1.5]]
    plain["openings"]["skylight"] = {
        **{"edge_m": edge, "area_m2": 0.1, "closing": "weathertight", "leads_to": "hull"},
        "rises_with": {"path": tie, "from_m": 0.34},
    }
    boat = boat_of(read(plain))
    heights = {
        stage: dict(edges_of(boat.document, stage))["skylight"][0, 2]
        for stage in ("as_found", "refit")
    }
    old = boat.document.existing["old-house"]
    aft = end_heights(old, boat.hull.bare)[1]
    assert heights["as_found"] == pytest.approx(1.5 + aft - 0.34)
    assert heights["refit"] == pytest.approx(1.5 + 0.52 - 0.34)


def test_a_length_that_the_old_part_does_not_give_is_said_plainly():
    plain = plain_of("brackwren")
    tie = "changes.deckhouse.parts.house.door.sill_z_m"
    plain["openings"]["hatch"] = {
        **{"edge_m": [[4.7, -0.2, 1.5], [4.7, 0.2, 1.5], [5.0, 0.2, 1.5]], "area_m2": 0.1},
        **{"closing": "weathertight", "leads_to": "hull"},
        "rises_with": {"path": tie, "from_m": 1.1},
    }
    with pytest.raises(ModelError, match="give it there, or name another height") as caught:
        dict(edges_of(read(plain), "as_found"))
    assert "existing.old-house.door.sill_z_m" in caught.value.sentence


def test_one_height_and_two_ends_are_the_same_house():
    boat = boat_of(read(plain_of("fernskerry")))
    host, old = boat.hull.bare, boat.document.existing["old-deckhouse"]
    ends = dict(
        zip(("side_height_forward_m", "side_height_aft_m"), end_heights(old, host), strict=True)
    )
    both = old.model_copy(update={"side_height_m": None, **ends})
    assert side_height(both, "side_height_m", host) == pytest.approx(0.44, abs=1e-4)
    assert side_height(old, "side_height_aft_m", host) == ends["side_height_aft_m"]


@pytest.mark.parametrize(
    ("old", "code"),
    [("existing.nothing", "replaces-nothing"), ("existing.old-well", "not-a-house")],
)
def test_what_is_no_old_house_is_refused(old, code):
    with pytest.raises(ModelError) as caught:
        raised_house(read(plain_of("brackwren")), old, *BY)
    assert caught.value.code == code


def test_a_house_lowered_to_nothing_says_why():
    whole = plain_of("brackwren")
    plain = {k: v for k, v in whole.items() if k in ("format", "boat", "hull", "existing")}
    plain["survey"] = {k: v for k, v in whole["survey"].items() if k != "aboard"}
    document = read(plain)
    with pytest.raises(ModelError) as caught:
        raised_house(document, "existing.old-house", -0.20, -0.31)
    assert (caught.value.code, caught.value.place) == ("side-too-low", "side_height_aft_m")
