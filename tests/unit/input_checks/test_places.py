"""Tanks and openings that lie off the boat are reported, and nothing else is."""

import pytest
from refits import barge_document, boat, demo_document, with_all

from hullchange.input_checks.places import place_findings

BOX = {"x": [7.3, 8.7], "y": [-0.34, 0.34], "z": [0.42, 0.85]}


def tank(**place):
    return {"tanks.water": {"capacity_l": 400, "contents": "fresh"} | place}


@pytest.mark.parametrize(
    ("by_path", "expected"),
    [
        ({}, []),
        (tank(box_m=BOX | {"y": [1.9, 2.58]}), ["409 of 409 l are outside the hull"]),
        # two wells, the old and the new
        (tank(box_m=BOX), ["are inside the old", "are inside the cockpit"]),
        # a part of it aft of the wells
        (
            tank(box_m=BOX | {"x": [8.0, 9.9]}),
            ["inside the old", "inside the cockpit"],
        ),
        # cut to the hull nothing is left outside
        (tank(box_m=BOX | {"y": [0.0, 3.0], "z": [0.0, 0.35]}, within="hull"), []),
        ({"openings": None}, ["where the sea comes in first is not known"]),
        ({"openings.chain-pipe.edge_m": [[1.2, 0.12, 13.6]]}, ["Opening chain pipe is"]),
        ({"openings.chain-pipe.edge_m": [[12.9, 0.12, 1.36]]}, ["Opening chain pipe is"]),
    ],
)
def test_what_lies_off_the_boat_is_reported(by_path, expected):
    found = list(place_findings(boat(with_all(demo_document(), by_path))))
    assert len(found) == len(expected)
    for finding, words in zip(found, expected, strict=True):
        assert words in finding.sentence


def test_a_waterline_that_her_lines_do_not_have_is_asked_about():
    plain = barge_document(10.0, 3.0, 0.5, 1.2, 0.2)
    assert not [f for f in place_findings(boat(plain)) if f.code == "waterline-length"]
    longer = with_all(plain, {"hull.length_waterline_m": 12.0})
    (doubt,) = [f for f in place_findings(boat(longer)) if f.code == "waterline-length"]
    assert doubt.place == "hull.length_waterline_m"
    assert "10.00 m" in doubt.sentence
    assert "12.00 m" in doubt.sentence
