"""What comes off for the refit."""

import numpy as np
import pytest
from refits import barge_document, boat, changed, demo_document, weight

from hullchange.cutting.comes_off import coming_off


@pytest.fixture(scope="module")
def demo():
    return {off.change: off for off in coming_off(boat(demo_document()))}


def test_every_kilogram_of_the_ledger_and_of_the_old_part_is_there(demo):
    built = boat(demo_document())
    removed = sum(e.weight.mass for e in built.entries if e.role == "removed")
    assert sum(w.mass for off in demo.values() for w, _ in off.weights) == pytest.approx(
        removed
    )
    for change, old in (("deckhouse", "old-house"), ("cockpit", "old-cockpit")):
        assert demo[change].drawn == pytest.approx(built.existing[old].steel.mass, rel=1e-6)
    assert "transom" not in demo


def test_the_highest_comes_first(demo):
    heights = [plate.centre[2] for plate in demo["deckhouse"].plates]
    assert heights == sorted(heights, reverse=True)
    assert demo["deckhouse"].plates[0].piece.plate.id == "roof"


def test_it_hangs_about_its_centre_on_the_steel_aboard(demo):
    plates = [plate for off in demo.values() for plate in off.plates]
    for plate in plates:
        assert len(plate.hung) >= 2
        assert np.allclose(plate.hung_aboard.mean(axis=0), plate.centre, atol=0.05)
    flat = next(p for p in plates if p.piece.plate.id == "sole")
    assert np.allclose(flat.hung_aboard.mean(axis=0), flat.centre, atol=1e-6)


def test_liquids_are_pumped(demo):
    assert demo["electric-drive"].pumped == {"changes.electric-drive.removes.fuel"}


def test_ledger_and_dimensions_that_disagree_are_reported(demo):
    assert [off.finding for off in demo.values()] == [None] * len(demo)
    path = "changes.cockpit.removes.steelwork.mass_kg"
    other = coming_off(boat(changed(demo_document(), **{path.replace(".", "__"): 100.0})))
    (finding,) = [off.finding for off in other if off.finding]
    assert finding.code == "old-steel-differs"
    assert "For cockpit the ledger removes 100 kg of steel" in finding.sentence
    assert "319 kg by their dimensions" in finding.sentence


def test_a_weight_without_an_old_part_has_mass_and_place_alone():
    engine = {"stage": "proposed", "removes": {"diesel": weight(200, (5, 0, 0))}}
    plain = barge_document(8.0, 3.0, 0.5, 1.5, 0.1, changes={"engine": engine})
    (off,) = coming_off(boat(plain))
    ((taken, by),) = off.weights
    assert (taken.mass, taken.centre, by) == (200.0, (5.0, 0.0, 0.0), "")
    assert (off.plates, off.drawn, off.finding) == ((), 0, None)
