"""Findings about openings that were measured after cutting out."""

import numpy as np
import pytest
from refits import boat, changed, demo_document

from hullchange.boat.measured_opening import SPANS
from hullchange.boat.opening_fits import opening_findings, openings_read

PART = "changes.cockpit.parts.cockpit"


def opened(plain):
    return next(o for o in openings_read(boat(plain)) if o.id == "cockpit")


def put(plain, key, value):
    return changed(plain, **{f"{PART}.{key}".replace(".", "__"): value})


def read(**off_mm):
    """The demo with the cockpit's opening read as drawn, some readings off."""
    corners = np.array([[0, 0.8], [2.4, 0.8], [2.4, -0.8], [0, -0.8]])
    drawn = opened(demo_document()).drawn
    readings = {k: v if k in SPANS else 1e3 * v for k, v in drawn.items()}
    for key, (i, j) in SPANS.items():  # the deck's sheer adds a millimetre or two
        assert readings[key] == pytest.approx(np.linalg.norm(corners[i] - corners[j]), abs=3e-3)
    for key, off in off_mm.items():
        readings[key] += off / 1e3 if key in SPANS else off
    return put(demo_document(), "opening", {k: round(v, 4) for k, v in readings.items()})


def codes(opened):
    return [finding.code for finding in opened.findings]


def test_openings_that_were_not_read_say_nothing():
    for opened in openings_read(boat(demo_document())):
        assert (opened.fit, opened.findings) == (None, ())


def test_what_agrees_is_said_to_agree():
    (finding,) = opened(read()).findings
    assert (finding.code, finding.place) == ("opening-agrees", f"{PART}.opening")


def test_a_longer_opening_is_fitted():
    longer = {"side_starboard_m": 20, "side_port_m": 20}
    diagonals = {"diagonal_forward_starboard_m": 16.7, "diagonal_forward_port_m": 16.7}
    plain = read(**longer, **diagonals)
    found = opened(plain)
    assert codes(found) == ["opening-differs"]
    sentence = found.findings[0].sentence
    assert 'misses its measured opening by up to 20 mm, at "starboard side"' in sentence
    values = found.fit.values["seat_well_m"]
    assert values == pytest.approx((2.42, 1.6, 0.33), abs=2e-4)
    assert codes(opened(put(plain, "seat_well_m", list(values)))) == ["opening-agrees"]


def test_a_slip_of_the_tape_comes_before_everything():
    found = opened(read(diagonal_forward_port_m=12))
    assert codes(found)[0] == "opening-does-not-close"
    assert "Measure all six again" in found.findings[0].sentence


def test_skew_is_named_and_left_to_scribing():
    skewed = {"diagonal_forward_port_m": 16, "diagonal_forward_starboard_m": -16}
    found = opened(read(**skewed))
    assert codes(found) == ["opening-differs"]
    assert "symmetrical part cannot take up" in found.findings[0].sentence


def test_a_deck_that_sags_more_is_scribed():
    found = opened(read(sheer_mm=6))
    assert codes(found) == ["opening-agrees", "deck-differs"]
    assert "6 mm more: leave that much extra" in found.findings[1].sentence


def test_readings_without_corners_are_reported_and_not_fitted():
    found = opened(read(diagonal_forward_starboard_m=9000))
    assert (found.fit.values, codes(found)) == ({}, ["opening-without-corners"])
    sentence = found.findings[0].sentence
    assert (
        'with 2884 mm for "forward starboard to aft port", measured as 11884 mm: check'
        in sentence
    )


def test_a_reading_a_metre_off_is_named_fits_nothing_and_is_reported_by_every_check():
    plain = read(across_aft_m=1000)
    found = opened(plain)
    assert (found.fit.values, codes(found)) == ({}, ["opening-does-not-close"])
    sentence = found.findings[0].sentence
    assert (
        'with 1600 mm for "across the after end", measured as 2600 mm: check that one first'
        in sentence
    )
    assert sentence.endswith("no part is fitted to them until they agree.")
    assert found.findings[0] in list(opening_findings(boat(plain)))


def test_an_opening_a_metre_longer_may_be_another_one():
    longer = {"side_starboard_m": 1000, "side_port_m": 1000}
    diagonal = 1e3 * (np.hypot(3.4, 1.6) - np.hypot(2.4, 1.6))
    both = {"diagonal_forward_starboard_m": diagonal, "diagonal_forward_port_m": diagonal}
    found = opened(read(**longer, **both))
    assert codes(found)[0] == "opening-differs"
    assert 'up to 1000 mm, at "starboard side". Make sure it is' in found.findings[0].sentence


def test_a_lopsided_opening_is_met_by_no_part():
    corners = np.array([[0, 0.8], [3.2, 0.8], [2.4, -0.8], [0, -0.8]])
    off = {
        key: 1e3 * float(np.linalg.norm(corners[i] - corners[j]) - drawn)
        for key, i, j, drawn in (
            ("side_starboard_m", 0, 1, 2.4),
            ("across_aft_m", 1, 2, 1.6),
            ("diagonal_forward_port_m", 3, 1, np.hypot(2.4, 1.6)),
        )
    }
    found = opened(read(**off))
    assert (found.fit.values, codes(found)[0]) == ({}, "opening-differs")
    assert "No symmetrical part comes closer" in found.findings[0].sentence


def test_a_deck_read_half_a_metre_off_is_read_again():
    found = opened(read(sheer_mm=400))
    assert "measure it again; if it is right, correct" in found.findings[1].sentence
