"""A first guess at a hull from nine numbers: what it meets, what it misses, what it refuses."""

from dataclasses import replace

import numpy as np
import pytest
from other_hulls import hull_of as other_hull

from hullchange.errors import ModelError
from hullchange.floating.integrals import integrals_below
from hullchange.geometry.frame import WaterPlane
from hullchange.hull.hull import HullInput, hull_of
from hullchange.hull.lines import Exactness, LineInput
from hullchange.hull.shape_error import shape_errors
from hullchange.hull_sources.main_dimensions import (
    KM_SD,
    LCB_SD,
    TEMPLATES,
    MainDimensions,
    first_guess,
)

LEVEL = WaterPlane(np.array([0.0, 0.0, 1.0]), 0.0)
SLOOP = MainDimensions("multi-chine", 9.6, 8.3, 3.2, 6.0, (1.15, 0.85, 0.95), 2.1)
TYPES_OF_FORMS = {"single-chine": "single-chine", "round": "round", "long-keel": "single-chine"}


def built(found, **more):
    return hull_of(HullInput(found.lines, 0.05, 1.5, **more), 4000)


def ends(hull):
    x = np.linspace(hull.fore_x + 1e-6, hull.transom_x - 1e-6, 4001)
    wet = x[hull.lines.centreline.at(x)[:, 1] < 0.0]
    return float(wet[0]), float(wet[-1])


def figures(hull):
    """Volume, LCB as a share of the waterline, KM."""
    below, (fore, aft) = integrals_below(hull.surface, LEVEL), ends(hull)
    x, _, z = below.buoyancy_centre
    km = z + below.waterplane_inertia[1, 1] / below.volume
    return below.volume, (x - fore) / (aft - fore), km


def dimensions_of(hull, kind):
    fore, aft = ends(hull)
    sheer = hull.lines.sheer.points
    freeboards = (sheer[0, 2], sheer[:, 2].min(), sheer[-1, 2])
    beam = 2.0 * sheer[:, 1].max()
    volume = figures(hull)[0]
    transom = 2.0 * sheer[-1, 1]
    return MainDimensions(kind, hull.length, aft - fore, beam, volume, freeboards, transom)


@pytest.mark.parametrize("kind", TEMPLATES)
def test_displacement_waterline_beam_and_freeboards_are_met(kind):
    given = replace(SLOOP, hull_type=kind, transom=0.0 if kind == "canoe-stern" else 2.1)
    found = first_guess(given)
    hull = built(found)
    fore, aft = ends(hull)
    sheer = hull.lines.sheer.points
    assert figures(hull)[0] == pytest.approx(6.0, rel=0.01)
    assert aft - fore == pytest.approx(8.3, rel=0.01)
    assert fore == pytest.approx(0.0, abs=0.03)
    assert hull.length == pytest.approx(9.6, abs=0.001)
    assert hull.beam == pytest.approx(3.2, rel=0.01)
    assert (sheer[0, 2], sheer[-1, 2]) == pytest.approx((1.15, 0.95))
    assert sheer[:, 2].min() == pytest.approx(0.85, abs=0.005)
    assert "±" in found.worth
    assert found.missing != ()


@pytest.mark.slow
def test_hulls_of_other_curves_lie_within_what_is_said():
    misses = []
    for seed in range(40):
        form, plain = other_hull(np.random.default_rng(seed))
        lines = tuple(
            LineInput(name, line["kind"], tuple(map(tuple, line["points_m"])))
            for name, line in plain["lines"].items()
        )
        try:
            true = hull_of(HullInput(lines, 0.05, 1.5), 4000)
        except ModelError:
            continue
        if form.kind == "barge":
            continue
        given = dimensions_of(true, TYPES_OF_FORMS.get(form.kind, "multi-chine"))
        mine, theirs = figures(built(first_guess(given))), figures(true)
        assert mine[0] == pytest.approx(theirs[0], rel=0.01)
        misses.append(
            [(mine[1] - theirs[1]) / LCB_SD, (mine[2] - theirs[2]) / given.beam / KM_SD]
        )
    assert len(misses) >= 25
    assert np.sqrt(np.mean(np.square(misses), axis=0)).max() < 1.2


def test_its_error_goes_through_the_hull():
    found = first_guess(SLOOP)
    hull = built(found, exactness=Exactness(found.plus_minus, runs_along=True))
    below = integrals_below(hull.surface, LEVEL)
    errors = shape_errors(hull)
    volume, _, _, vertical = errors.below(LEVEL)
    inertia = errors.waterplane_inertia(LEVEL, below.flotation_centre)
    bm = below.waterplane_inertia[1, 1] / below.volume
    height = below.buoyancy_centre[2]
    km = ((vertical - height * volume) + (inertia - bm * volume)) / below.volume
    assert np.linalg.norm(km) == pytest.approx(KM_SD * SLOOP.beam, rel=0.25)
    # readings taken off ashore, each erring by itself, would say a hundredth of it
    assert np.linalg.norm(shape_errors(built(found)).below(LEVEL)[0]) < 0.02 * below.volume


@pytest.mark.parametrize(
    ("wrong", "words"),
    [
        ({"displacement": 6000.0}, "it must be .* to .* m³ \\(about as many tonnes\\)"),
        ({"displacement": 0.2}, "does not fit"),
        ({"waterline": 10.0}, "waterline of 10.00 m"),
        ({"beam": 0.32}, "beam of 0.32 m"),
        ({"transom": 3.4}, "transom"),
        ({"freeboards": (1.1, 1.2, 1.0)}, "least freeboard"),
        ({"freeboards": (1.1, -0.2, 1.0)}, "least freeboard"),
        ({"length": float("nan")}, "length over all"),
    ],
)
def test_dimensions_that_disagree_are_refused_in_words(wrong, words):
    with pytest.raises(ModelError, match=words) as caught:
        first_guess(replace(SLOOP, **wrong))
    assert caught.value.code == "dimensions-disagree"


@pytest.mark.parametrize("seed", range(60))
def test_any_dimensions_give_a_hull_or_a_reason(seed):
    draw = np.random.default_rng(seed)
    length = draw.uniform(5.0, 20.0)
    kind = str(draw.choice(list(TEMPLATES)))
    least = length * draw.uniform(0.04, 0.12)
    given = MainDimensions(
        kind,
        length,
        length * draw.uniform(0.6, 1.0),
        beam := length * draw.uniform(0.15, 0.5),
        length * beam**2 * draw.uniform(0.01, 0.2),
        (least * draw.uniform(1.0, 1.8), least, least * draw.uniform(1.0, 1.4)),
        0.0 if kind == "canoe-stern" else beam * draw.uniform(0.0, 1.0),
    )
    try:
        found = first_guess(given)
    except ModelError as error:
        assert error.code == "dimensions-disagree"  # noqa: PT017  either is right
        return
    assert figures(built(found))[0] == pytest.approx(given.displacement, rel=0.015)
