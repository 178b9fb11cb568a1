"""Keels, skegs and rudders to begin from: every kind builds under hulls of every sort."""

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from every_hull import every_hull
from other_hulls import hull_of

from hullchange.boat.appendage_proposals import proposed_appendages
from hullchange.boat.boat import boat_of
from hullchange.document.reading import document_of
from hullchange.errors import ModelError
from hullchange.geometry.surface import intersection
from hullchange.hull.appendages import appendages_of, thickness_table, uncut_body
from hullchange.proposals.appendages import APPENDAGE_KINDS, proposed_appendage

HULLS, FIRST = 20, 3100
SETS = (
    ("fin_keel", "skeg", "hung_rudder"),
    ("long_keel", "hung_rudder", "bilge_keels"),
    ("bilge_keels", "twin_rudders"),
    ("long_keel", "transom_rudder"),
    ("deep_fin", "spade_rudder"),
)
"""What boats have together, in the order it is put in."""


@pytest.fixture(scope="module")
def hulls():
    return list(every_hull(HULLS, FIRST))


def built(hull, given):
    return appendages_of(given, hull.lines, hull.surface)


@pytest.mark.parametrize("kind", APPENDAGE_KINDS)
def test_every_kind_builds_under_every_hull_and_meets_it(hulls, kind):
    for name, hull in hulls:
        one = proposed_appendage(kind, hull, ())
        assert one.fits, f"{name}: {one.sentence}"
        for given, body in zip(one.given, built(hull, one.given), strict=True):
            whole = given.plane.placed(uncut_body(body.outline, thickness_table(given)))
            into = intersection(whole, hull.surface)
            assert len(into.faces), f"{name}: {given.name} does not reach the hull"
            assert body.surface.volume > 1e-4 * hull.length**2 * given.half_thickness[1][1]
            deepest = float(body.surface.bounds[0, 2])
            assert deepest < float(hull.surface.bounds[0, 2]) or "rudder" in kind


@pytest.mark.parametrize("kinds", SETS)
def test_what_boats_have_together_builds_one_after_another(hulls, kinds):
    for name, hull in hulls[::3]:
        beside = ()
        for kind in kinds:
            one = proposed_appendage(kind, hull, beside)
            assert one.fits, f"{name} {kind}: {one.sentence}"
            beside = (*beside, *one.given)
        bodies = built(hull, beside)
        assert all(body.surface.volume > 0.0 for body in bodies)


def test_a_rudder_hangs_on_the_skeg_that_she_has(hulls):
    _, hull = hulls[0]
    alone = proposed_appendage("hung_rudder", hull, ())
    assert [one.name for one in alone.given] == ["skeg", "rudder"]
    (skeg,) = proposed_appendage("skeg", hull, ()).given
    moved = replace(skeg, outline=tuple((round(x - 0.5, 2), z) for x, z in skeg.outline))
    (rudder,) = proposed_appendage("hung_rudder", hull, (moved,)).given
    after = max(x for x, _ in moved.outline)
    assert after < min(x for x, z in rudder.outline if z > -0.6 * hull.draught) < after + 0.05


def test_nothing_is_put_where_something_stands(hulls):
    _, hull = hulls[0]
    keel = proposed_appendage("fin_keel", hull, ()).given
    again = proposed_appendage("deep_fin", hull, keel)
    assert not again.fits
    assert "Her keel is already there" in again.sentence


def test_a_keel_of_hers_sets_how_deep_a_rudder_goes(hulls):
    _, hull = hulls[0]
    (keel,) = proposed_appendage("fin_keel", hull, ()).given
    deeper = replace(keel, outline=tuple((x, z - 0.3) for x, z in keel.outline))
    depths = [
        min(z for _, z in proposed_appendage("spade_rudder", hull, (one,)).given[0].outline)
        for one in (keel, deeper)
    ]
    assert depths[1] == pytest.approx(depths[0] - 0.3 * 0.75, abs=0.002)


def test_what_is_no_kind_is_refused(hulls):
    with pytest.raises(ModelError, match="one of long_keel") as caught:
        proposed_appendage("wing", hulls[0][1], ())
    assert caught.value.code == "unknown-kind"


@pytest.mark.parametrize("seed", range(6))
def test_documents_take_what_is_proposed(seed):
    form, hull = hull_of(np.random.default_rng([2026, seed]))
    hull = hull | {"appendages": {}}
    mark = {"x_m": 1.0, "sheer_z_m": 1.0, "freeboard_m": {"port": 1.0, "starboard": 1.0}}
    plain = {
        **{"format": 1, "boat": {"name": form.kind}, "hull": hull},
        "survey": {
            "marks": {"forward": mark, "aft": mark | {"x_m": 5.0}},
            "vcg": {"z_m": 0.0, "plus_minus_m": 0.05, "from": "guessed"},
        },
    }
    for one in proposed_appendages(document_of(plain, Path())):
        assert one.fits, one.sentence
        laid = {
            name: given.model_dump(mode="json", exclude_none=True)
            for name, given in one.appendages.items()
        }
        boat = boat_of(document_of({**plain, "hull": hull | {"appendages": laid}}, Path()))
        assert boat.hull.appendages.keys() == laid.keys()
        assert not [f for f in boat.findings if "appendages" in f.place], one.kind
