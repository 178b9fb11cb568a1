"""Parts of every kind on hulls unlike the demo: built or refused, edges where they belong."""

from dataclasses import replace

import numpy as np
import pytest
from any_part import dimensions, partly_random_dimensions, plausible_dimensions
from hulls import demo_hull, random_hull

from hullchange.errors import ModelError
from hullchange.geometry.plate import Planar
from hullchange.hull.hull import HullInput, hull_of
from hullchange.hull.lines import LineInput
from hullchange.materials import STEEL_DENSITY
from hullchange.parts.on_hull import with_fit_findings
from hullchange.parts.part import Site
from hullchange.parts.registry import KINDS
from hullchange.parts.weigh import weigh

HULLS, DRAWS = 6, 8


def hull(seed):
    return demo_hull() if seed == 0 else random_hull(seed)


def house_on(host, draw):
    """The first sensible house that can be built there."""
    while True:
        try:
            given = dimensions("deckhouse", plausible_dimensions("deckhouse", host, draw))
            return KINDS["deckhouse"].build(given, Site(host))
        except ModelError:
            continue


def parts_of(kind, seed, how):
    """What comes of some drawn dimensions on a hull: parts, and refusals."""
    host, draw = hull(seed), np.random.default_rng(seed)
    stand = house_on(host, draw) if kind == "mast_support" else None
    for _ in range(DRAWS):
        given = dimensions(kind, how(kind, host, draw))
        if given is not None:
            try:
                yield with_fit_findings(host, KINDS[kind].build(given, Site(host, stand)))
            except ModelError as error:
                yield error


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("how", [plausible_dimensions, partly_random_dimensions])
def test_built_or_refused_in_words(kind, how):
    built = 0
    for seed in range(HULLS):
        for part in parts_of(kind, seed, how):
            if isinstance(part, ModelError):
                assert part.place
                assert part.sentence.endswith(".")
                continue
            built += 1
            mesh = weigh(part, STEEL_DENSITY)
            flat = sum(plate.mass(STEEL_DENSITY) for plate in part.plates)
            assert mesh.mass == pytest.approx(flat, rel=1e-3)
    assert built > HULLS * DRAWS / 4


def off_deck(host, plate, flat):
    at = plate.map.to_boat(flat)
    return at[:, 2] - host.deck_z(at[:, 0], at[:, 1])


def off_shell(host, plate, flat):
    """Of the inner face, square across; none where it stands on a blunt stem."""
    at = plate.map.to_boat(flat) - np.array([0.0, plate.thickness / 2.0, 0.0])
    half = [np.interp(z, *host.section(x + 1e-9)[:, ::-1].T) for x, _, z in at]
    blunt = (at[:, 0] < host.fore_x + 1e-6) & (at[:, 1] < half)
    return np.where(blunt, 0.0, at[:, 1] - half)


def off_plating(host, plate, flat):
    """Of its inner face, as thick as it is given, or a little more on a slope."""
    at = plate.map.to_boat(flat)
    inside = at[:, 2] - host.bottom_z(at[:, 0], at[:, 1])
    inside = inside - host.bottom_thickness(at[:, 0], at[:, 1])
    return np.where(inside > 0.0, np.maximum(inside - 2e-3, 0.0), inside)


MEASURED = {
    "deckhouse": ("deck", off_deck),
    "cockpit": ("deck", off_deck),
    "bow_platform": ("hull", off_shell),
    "mast_support": ("bottom", off_plating),
}


@pytest.mark.parametrize("kind", MEASURED)
def test_edges_lie_where_they_belong(kind):
    """Within half the plate and 2 mm all along, on every hull; and so no finding says else."""
    (tag, measured), looked_at = MEASURED[kind], 0
    for seed in range(HULLS):
        for part in parts_of(kind, seed, plausible_dimensions):
            if isinstance(part, ModelError):
                continue
            sentences = [f.sentence for f in part.findings if f.code == "edge-apart"]
            assert not [s for s in sentences if "Plate top " not in s]
            for plate in (p for p in part.plates if not p.twin_of):
                for edge in plate.outer.tagged(tag) if plate.id != "top" else ():
                    off = measured(hull(seed), plate, edge.spread(50))
                    assert np.abs(off).max() < min(plate.thickness / 2.0, 2e-3)
                    looked_at += 1
    assert looked_at > HULLS


def test_an_edge_that_stands_off_is_reported_with_millimetres_and_length():
    """A house's side cut 6 mm too short over its whole foot, and a plate that spans a bend."""
    host = hull(0)
    house = house_on(host, np.random.default_rng(3))
    side = house.plates[0]
    raised = replace(
        side,
        map=Planar(
            replace(side.map.frame, origin=side.map.frame.origin + np.array([0.0, 0.0, 0.006]))
        ),
    )
    (finding,) = with_fit_findings(host, replace(house, plates=(raised,))).findings
    assert finding.code == "edge-apart"
    foot = sum(edge.length for edge in side.outer.tagged("deck"))
    length = float(finding.sentence.split(" along ")[1].split(" mm")[0]) / 1e3
    assert length == pytest.approx(foot, rel=0.02)
    assert " 5." in finding.sentence.split(" mm off ")[0]


def test_brackets_on_a_flat_bow():
    """A pram: her bow a plate across, on which the brackets stand; nothing is off."""
    beam = [(0.0, 0.0, -0.3), (8.0, 0.0, -0.3)], [(0.0, 0.9, -0.2), (8.0, 1.2, -0.2)]
    top = [(0.0, 1.0, 0.8), (8.0, 1.3, 0.8)]
    names = ("keel-line", "fair"), ("bilge", "chine"), ("sheer", "sheer")
    rows = zip(names, (*beam, top), strict=True)
    host = hull_of(HullInput(tuple(LineInput(*name, tuple(row)) for name, row in rows)))
    given = KINDS["bow_platform"].example
    assert (
        with_fit_findings(host, KINDS["bow_platform"].build(given, Site(host))).findings == ()
    )


def test_a_plate_that_leaves_the_deck_between_its_corners():
    """A bulkhead given by four corners under a cambered deck: 60 mm at her broadest."""
    host = hull(0)
    half = float(host.sheer(np.array([5.5]))[0, 1]) - 0.01
    edge = float(host.deck_z(5.5, half))
    corners = ((5.5, half, edge), (5.5, -half, edge), (5.5, -0.5, 0.2), (5.5, 0.5, 0.2))
    given = dimensions("plating", {"corners_m": corners, "thickness_mm": 5.0})
    (finding,) = with_fit_findings(host, KINDS["plating"].build(given, Site(host))).findings
    assert (finding.code, finding.place) == ("edge-apart", "corners_m")
    rise = 1e3 * (float(host.deck_z(5.5, 0.0)) - edge)
    assert f"up to {rise:.0f} mm" in finding.sentence
