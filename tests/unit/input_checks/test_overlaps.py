"""Steel in other steel: by hand, planted in the demo, and over refits on other hulls."""

from dataclasses import replace

import numpy as np
import pytest
from any_part import dimensions, plausible_dimensions
from hulls import random_hull
from refits import boat, demo_document, with_all

from hullchange.boat.built import BuiltPart
from hullchange.errors import ModelError
from hullchange.geometry.surface import common_volumes
from hullchange.input_checks.overlaps import clashes
from hullchange.parts.part import Part, Site
from hullchange.parts.registry import KINDS
from hullchange.parts.steelwork import AFT, flat_bar, plate_between

HOUSE, COCKPIT = "changes.deckhouse.parts.house", "changes.cockpit.parts.cockpit"


def part(id, *plates):
    return built_part(id, Part("plating", plates), "".join(plate.key for plate in plates))


def built_part(id, made, key):
    """A part that was built without dimensions and is not weighed, with a key of its own."""
    return BuiltPart(f"{id}{key}", f"parts.{id}", id, "", None, made, None, 0.0, ())


def found(*parts):
    return clashes({one.id: one for one in parts})


def flat(name, *corners, mm=4.0):
    return plate_between(name, np.array(corners, float), mm)


FLOOR = flat("floor", (0, 0, 0), (2, 0, 0), (2, 1, 0), (0, 1, 0))


def test_a_bar_through_a_plate_by_hand():
    """40 x 5 on edge, square through 4 mm: 0.8 cm3."""
    bar = flat_bar(
        "bar", np.array([1.0, 0.5, -0.2]), np.array([1.0, 0.5, 0.2]), AFT, (0.04, 0.005)
    )
    (finding,) = found(part("one", FLOOR), part("other", bar))
    assert (finding.code, finding.severity, finding.place) == (
        "pieces-collide",
        "warn",
        "parts.other",
    )
    assert "one floor and other bar share 0.8 cm³" in finding.sentence


def test_twice_the_same_plate():
    (finding,) = found(part("one", FLOOR, replace(FLOOR, id="again")))
    assert "one floor and one again share 8000.0 cm³" in finding.sentence


def test_what_a_joint_explains():
    """Tee and corner drawn to the mid-surfaces, at any angle, thick on thin, and a lap."""
    for mm in (2.0, 4.0, 12.0):
        for lean in (-1.0, 0.0, 0.6):
            top = 0.4 * np.array([0.0, lean, 1.0])
            for y in (0.5, 1.0):
                foot = np.array([[0.0, y, 0.0], [2.0, y, 0.0]])
                wall = plate_between("wall", np.concatenate([foot, foot[::-1] + top]), mm)
                assert found(part("one", FLOOR, wall)) == ()
    pad = flat("pad", (0.5, 0.2, 4e-3), (0.9, 0.2, 4e-3), (0.9, 0.6, 4e-3), (0.5, 0.6, 4e-3))
    assert found(part("one", FLOOR, pad)) == ()


def test_of_twins_one_pair_is_reported():
    wall = flat("wall-starboard", (0, 0.4, -0.2), (2, 0.4, -0.2), (2, 0.4, 0.2), (0, 0.4, 0.2))
    wide = flat("floor", (0, -1, 0), (2, -1, 0), (2, 1, 0), (0, 1, 0))
    (finding,) = found(part("one", wide, wall, wall.twin("wall-port")))
    assert "one floor and one wall starboard share 32.0 cm³" in finding.sentence


def sentences(changes):
    built = boat(with_all(demo_document(), changes))
    return [finding.sentence for finding in clashes(built.parts)]


def test_the_demo_has_none():
    assert sentences({}) == []


def test_a_post_through_a_beam_that_nobody_parted():
    """Its wall of 6 mm takes 5 mm of the beam, 50 mm deep, twice: at least 3 cm3."""
    built = boat(demo_document())
    house, support = built.parts["house"], built.parts["mast-support"]
    whole = KINDS["deckhouse"].build(house.dimensions, Site(built.hull))
    (finding,) = clashes(
        {"house": replace(house, part=whole, key="whole"), "mast-support": support}
    )
    assert "house roof beam 2 and mast-support post share 4.5 cm³" in finding.sentence
    assert clashes({"house": house, "mast-support": support}) == ()


def test_a_coaming_across_the_door():
    """Laid in the house's after end, 3 mm of its own 4: 0.2 m by 1.6 m less the door."""
    (sentence, *_) = sentences({f"{COCKPIT}.forward_coaming": True})
    assert "house after end and cockpit well end forward" in sentence
    litres = float(sentence.split(" share ")[1].split(" cm³")[0]) / 1e3
    assert litres == pytest.approx(0.003 * 0.2 * (1.6 - 0.66) * 1e3, rel=0.1)


def test_a_flat_inside_the_wall_of_the_foot_well():
    """Axes 5 mm apart, both 4 mm thick and more: it was compared by axes alone."""
    (sentence,) = sentences(
        {f"{COCKPIT}.foot_well_m": [1.7, 0.7, 0.4], f"{COCKPIT}.foot_well_forward_m": 7.4}
    )
    assert "foot well after" in sentence
    assert "seat flat" in sentence


def refit_on(hull, draw):
    """Parts of all kinds on one hull, by name, and the posts in the house."""
    parts, stand, posts = {}, None, ()
    while stand is None:
        given = dimensions("deckhouse", plausible_dimensions("deckhouse", hull, draw))
        support = dimensions("mast_support", plausible_dimensions("mast_support", hull, draw))
        try:
            KINDS["mast_support"].build(
                support, Site(hull, KINDS["deckhouse"].build(given, Site(hull)))
            )
        except ModelError:
            continue
        posts = ((support.x_m, support.post_mm[0] / 2e3),)
        stand = KINDS["deckhouse"].build(given, Site(hull, None, posts))
        parts["house"] = stand
        parts["mast-support"] = KINDS["mast_support"].build(support, Site(hull, stand))
    for kind in ("cockpit", "transom_extension", "bow_platform"):
        try:
            parts[kind] = KINDS[kind].build(
                dimensions(kind, plausible_dimensions(kind, hull, draw)), Site(hull)
            )
        except ModelError:
            continue
    return parts


def test_refits_on_other_hulls():
    """All that plates share is reported, or is no more than half of one in the other's edge."""
    count = 0
    for seed in range(8):
        parts = refit_on(random_hull(seed), np.random.default_rng(seed))
        mine = {name: built_part(name, one, str(seed)) for name, one in parts.items()}
        findings = clashes(mine)
        count += len(findings)
        rows = [(n, plate) for n, one in parts.items() for plate in one.plates]
        assert not any("post" in s.sentence and "beam" in s.sentence for s in findings)
        pairs = [(i, j) for i in range(len(rows)) for j in range(i)]
        for (i, j), pieces in common_volumes([plate.surface() for _, plate in rows], pairs):
            names = [f"{n} {p.id.replace('-', ' ')}" for n, p in (rows[i], rows[j])]
            if any(all(name in s.sentence for name in names) for s in findings):
                continue
            if any("port" in name for name in names):
                continue  # reported of its twin
            thin = sorted((rows[i][1].gauge, rows[j][1].gauge))
            for piece in pieces:
                length = float(np.linalg.norm(np.ptp(piece.vertices, axis=0)))
                cube = thin[0] * thin[1] ** 2
                assert piece.volume < 5.0 * thin[0] * thin[1] / 2.0 * length + cube
    assert count
