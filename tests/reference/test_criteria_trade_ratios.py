"""Trade ratios against figures their publishers print.

Source: pages on yacht ratios (ipass.net/calratio, compass38.blogspot, altendorff.co.uk) and the
    documentation of a small open formula library; a production yacht's sheet on
    boatdesign.net, thread 13569, page 11.
Seen: opened; the formula of motion comfort from memory.
Known: 18.71 for the sail area ratio comes of a rounded exponent (exact 18.697); 14.2 of 14.14
    and 0.44 of 0.438 are rounded up. The sheet's displacement is 0.09 % heavier in pounds than
    its kilograms, alike in both ratios; its sail area ratio is of other sails and is left out.
"""

import pytest
from bodies import barge
from refits import SEA, assessed, barge_document

from hullchange.criteria.facts import Absent, Sails
from hullchange.criteria.ratios import Proportions, ratio_changes, trade_ratios
from hullchange.findings import Grade
from hullchange.floating.hydrostatics import kg_per_cm
from hullchange.floating.integrals import integrals_below
from hullchange.geometry.frame import WaterPlane, up_vector

LB, FT = 0.45359237, 0.3048
STEEL = Proportions(13_000.0, 10.5, 12.0, 3.9, Sails(70.0, 6.2, 1.0), 4500.0)


def figures(pounds, feet, beam_ft=10.0, sail_ft2=100.0, ballast_lb=0.0):
    boat = Proportions(
        pounds * LB,
        feet * FT,
        1.2 * feet * FT,
        beam_ft * FT,
        Sails(sail_ft2 * FT**2, 5.0, 1.0),
        ballast_lb * LB,
    )
    return {ratio.id: ratio.value for ratio in trade_ratios(boat)}


def test_displacement_length():
    assert figures(20_000, 30.0)["displacement-length"] == pytest.approx(330.69, abs=5e-3)
    assert figures(16_676, 30.67)["displacement-length"] == pytest.approx(258, abs=0.5)


def test_sail_area_displacement():
    # the publishers' own rounding, see Known
    ratio = figures(18_250, 30.0, sail_ft2=810.0)["sail-area-displacement"]
    assert ratio == pytest.approx(18.71, abs=0.02)
    assert ratio == pytest.approx(18.697, abs=5e-4)
    second = figures(16_676, 30.67, sail_ft2=577.0)["sail-area-displacement"]
    assert second == pytest.approx(14.2, abs=0.06)


def test_capsize_screening():
    assert figures(18_500, 30.0, beam_ft=14.0)["capsize-screening"] == pytest.approx(
        2.12, abs=5e-3
    )
    assert figures(16_676, 30.67, beam_ft=11.0)["capsize-screening"] == pytest.approx(
        1.72, abs=5e-3
    )


def test_ballast_ratio_and_hull_speed():
    assert figures(16_676, 30.67, ballast_lb=7304)["ballast-ratio"] == pytest.approx(
        0.44, abs=5e-3
    )
    assert figures(20_000, 30.0)["hull-speed"] == pytest.approx(7.34, abs=5e-3)


def test_a_steel_yacht_of_thirteen_tonnes():
    ratios = {ratio.id: ratio.value for ratio in trade_ratios(STEEL)}
    assert ratios["displacement-length"] == pytest.approx(313, abs=0.5)
    assert ratios["sail-area-displacement"] == pytest.approx(12.9, abs=0.05)
    assert ratios["capsize-screening"] == pytest.approx(1.67, abs=5e-3)
    assert ratios["motion-comfort"] == pytest.approx(41.01, abs=5e-3)
    # 7.87 is 2.43 sqrt(m); 1.34 sqrt(ft) is 2.427 of it
    assert pytest.approx(7.87, abs=5e-3) == 2.43 * 10.5**0.5
    assert ratios["hull-speed"] == pytest.approx(7.87, abs=0.01)


def test_a_production_yacht():
    # 12 000 kg, LWL 13.35, LH 14.16, beam 4.33 m; the sheet's own conversion, see Known
    boat = Proportions(12_000.0, 13.35, 14.16, 4.33, Absent("other sails"), 0.28 * 12_000.0)
    ratios = {ratio.id: ratio.value for ratio in trade_ratios(boat)}
    assert ratios["displacement-length"] == pytest.approx(140.68, rel=1e-3)
    assert ratios["motion-comfort"] == pytest.approx(26.55, rel=1e-3)
    assert ratios["capsize-screening"] == pytest.approx(1.91, abs=5e-3)
    assert ratios["hull-speed"] == pytest.approx(8.87, abs=5e-3)


def test_they_are_comparisons_with_their_units():
    for ratio in trade_ratios(STEEL):
        assert "not a measure of safety" in ratio.usual.lower()
        assert ratio.units
    grades = {ratio.id: ratio.grade for ratio in trade_ratios(STEEL)}
    assert grades.pop("motion-comfort") is Grade.B
    assert set(grades.values()) == {Grade.A}


def test_what_is_not_known_says_so():
    bare = Proportions(13_000.0, 10.5, 12.0, 3.9, Absent("no rig"), Absent("no ballast known"))
    missing = {r.id: r.value for r in trade_ratios(bare) if isinstance(r.value, Absent)}
    assert missing == {
        "sail-area-displacement": Absent("no rig"),
        "ballast-ratio": Absent("no ballast known"),
    }


def test_old_beside_new():
    heavier = Proportions(14_300.0, 10.5, 12.6, 3.9, STEEL.sails, 4500.0)
    changes = {change.new.id: change for change in ratio_changes(STEEL, heavier)}
    length = changes["displacement-length"]
    assert length.new.value == pytest.approx(1.1 * length.old.value)
    assert changes["hull-speed"].new.value == changes["hull-speed"].old.value


def test_kilograms_per_centimetre():
    # check value: rho Aw / 100, 26 m2 in sea water
    afloat = integrals_below(barge(6.5, 4.0, 2.0, 1.0), WaterPlane(up_vector(0.0, 0.0), 0.0))
    assert kg_per_cm(afloat, 1025.0) == pytest.approx(266.5)


def test_moment_to_trim_a_centimetre():
    # check value: displacement GML / (100 L), of 13 t, 12 m and 10.5 m; a box with G at B
    length, draught = 10.5, 10.5**2 / 12.0 / 12.0
    breadth = 13_000.0 / SEA / length / draught
    row = assessed(barge_document(length, breadth, draught, 2.0, -draught / 2.0)).conditions[0]
    assert row.displacement_kg == pytest.approx(13_000.0)
    assert row.trim_moment_kgm_per_cm == pytest.approx(148.57, abs=5e-3)
