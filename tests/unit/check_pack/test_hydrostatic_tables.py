"""Hydrostatics over draught and trim, and cross curves."""

from math import atan, cos, radians, sin, tan

import numpy as np
import pytest
from refits import SEA, barge_document, boat, demo

from hullchange.afloat.any_displacement import without_houses
from hullchange.afloat.at_rest import afloat, envelope_of
from hullchange.boat.variants import as_found, refit
from hullchange.check_pack.hydrostatic_tables import (
    cross_curves,
    cross_curves_of,
    hydrostatic_tables,
    waterlines,
)
from hullchange.errors import ModelError
from hullchange.floating.equilibrium import Loading
from hullchange.floating.hydrostatics import hydrostatics
from hullchange.floating.levers import righting_levers

LENGTH, BEAM, DRAUGHT, DEPTH, VCG = 12.0, 4.0, 1.0, 2.5, 0.2


@pytest.fixture(scope="module")
def barge():
    return boat(barge_document(LENGTH, BEAM, DRAUGHT, DEPTH, VCG))


@pytest.fixture(scope="module")
def curves():
    return cross_curves_of(demo()[0])


def test_a_barge_at_any_draught_and_trim(barge):
    table = hydrostatic_tables(barge)["as_found"]
    assert len(table) == 11 * 5
    for row in table:
        draught, slope = DRAUGHT + row.sinkage, row.trim / LENGTH
        stretched = 1.0 / cos(atan(slope))
        mass = SEA * LENGTH * BEAM * draught
        bml = LENGTH**2 / 12 / draught
        assert row.displacement == pytest.approx(mass)
        assert row.lcb == pytest.approx(6 + bml * slope)
        assert row.vcb == pytest.approx(draught / 2 - 1 + bml * slope**2 / 2)
        assert row.lcf == pytest.approx(6)
        assert row.waterplane_area == pytest.approx(48 * stretched)
        assert row.km_transverse == pytest.approx(row.vcb + BEAM**2 / 12 / draught)
        assert row.km_longitudinal == pytest.approx(row.vcb + bml * stretched**2)
        assert row.kg_per_cm == pytest.approx(SEA * 48 * stretched / 100)
        assert row.trim_moment_per_cm == pytest.approx(mass * bml * stretched**3 / 1200)


def test_on_her_marks_the_table_is_the_hydrostatics():
    built = demo()[0]
    tables = hydrostatic_tables(built)
    for variant in (as_found(built), refit(built)):
        row = next(r for r in tables[variant.stage] if r.sinkage == r.trim == 0.0)
        envelope = envelope_of(built, variant)
        level = hydrostatics(envelope, built.hull.surface, 10.15, SEA)
        for name in ("displacement", "lcb", "vcb", "lcf", "waterplane_area", "kg_per_cm"):
            assert getattr(row, name) == pytest.approx(getattr(level, name), rel=1e-12)
        for name in ("km_transverse", "km_longitudinal", "trim_moment_per_cm"):
            assert getattr(row, name) == pytest.approx(getattr(level, name), rel=1e-12)


def test_trimmed_it_is_the_float_held_upright():
    built, found, conditions = demo()
    rest = afloat(built, found, refit(built), conditions["departure"]).rest.upright
    sinkage = rest.plane.sinkage(10.15 / 2)
    trim = rest.plane.trim_between_perpendiculars(10.15)
    assert abs(trim) > 0.01
    (row,) = waterlines(rest.envelope, 10.15, SEA, (sinkage,), (trim,))
    assert row.displacement == pytest.approx(rest.mass, rel=1e-9)
    assert row.km_transverse == pytest.approx(rest.metacentre_transverse[2], abs=1e-9)
    tilt, below = rest.tilts[1], rest.integrals
    height = tilt @ below.waterplane_inertia @ tilt / below.volume * rest.plane.up[2]
    assert row.km_longitudinal == pytest.approx(rest.buoyancy_centre[2] + height, abs=1e-9)
    assert row.lcb == pytest.approx(rest.buoyancy_centre[0], abs=1e-9)


def test_a_waterline_below_her_keel_is_refused(barge):
    envelope = envelope_of(barge, as_found(barge))
    with pytest.raises(ModelError) as refused:
        waterlines(envelope, LENGTH, SEA, (-1.5,), (0.0,))
    assert refused.value.code == "no-volume"


def test_a_barges_levers_while_her_sides_are_straight(barge):
    for curve in cross_curves_of(barge).curves:
        draught = curve.displacement / SEA / LENGTH / BEAM
        bm = BEAM**2 / 12 / draught
        for heel, kn in zip(curve.heels[:3], curve.kn[:3], strict=True):
            straight = sin(heel) * (draught / 2 - 1 + bm + bm * tan(heel) ** 2 / 2)
            assert kn == pytest.approx(straight, abs=1e-9)


def test_they_recombine_to_her_levers(curves):
    built = demo()[0]
    whole = envelope_of(built, refit(built))
    bodies = {True: whole, False: without_houses(built, whole)}
    heels = np.radians(np.arange(0.0, 91.0, 2.5))
    assert len(curves.curves) == 16
    for curve in curves.curves[::3]:
        loading = Loading(curve.displacement, curves.centre)
        levers = righting_levers(bodies[curve.house_counted], loading, SEA, heels)
        own = curve.kn - curves.centre[2] * np.sin(curve.heels)
        assert np.abs(own - levers.gz[::4]).max() < 1e-9


def test_for_another_height_only_her_trim_is_missed(curves):
    built = demo()[0]
    curve = curves.curves[3]
    higher = curves.centre + [0.0, 0.0, 0.2]
    loading = Loading(curve.displacement, higher)
    levers = righting_levers(
        envelope_of(built, refit(built)), loading, SEA, np.radians(np.arange(0.0, 91.0, 10.0))
    )
    miss = np.abs(curve.kn - higher[2] * np.sin(curve.heels) - levers.gz)
    # to second order in the change of trim; lever diagrams are read to a millimetre
    assert miss.max() < 1e-3


def test_displacements_run_from_the_lightest(curves):
    masses = [c.displacement for c in curves.curves if c.house_counted]
    lightest = 12192.01942863468
    assert masses[0] == pytest.approx(0.85 * lightest)
    assert masses[-1] == pytest.approx(1.20 * lightest)
    bare = [c for c in curves.curves if not c.house_counted]
    upright = curves.curves[0]
    # at the weight of the lightest her house is dry at 50 degrees and wet on her side
    assert bare[0].kn[:6] == pytest.approx(upright.kn[:6], abs=1e-9)
    assert bare[0].kn[9] < upright.kn[9] - 0.02
    assert curves.sunk == ()


def test_a_displacement_that_sinks_her_is_left_out(barge):
    envelope = envelope_of(barge, as_found(barge))
    all_of_her = SEA * LENGTH * BEAM * DEPTH
    at = Loading(1.0, np.array([6.0, 0.3, 0.0]))
    found = cross_curves(envelope, envelope, at, SEA, all_of_her)
    assert min(found.sunk) >= all_of_her
    assert len(found.sunk) == 5
    assert len(found.curves) == 2 * 3
    assert found.centre[1] == 0.0
    assert found.curves[0].heels == pytest.approx([radians(10 * k) for k in range(10)])
