"""The CAD record beside the plates' own meshes, on the whole of Saltmarrow."""

from dataclasses import replace

import numpy as np
import pytest
from refits import demo

from hullchange.boat.cad_record import CENTROID_MM, MASS_PERCENT, record_result


@pytest.mark.cad
@pytest.mark.slow
def test_cad_and_meshes_hold_each_other():
    from hullchange.cad.solids import record_of  # seconds of import

    built = demo()[0]
    solids = {name: record_of(part.part.plates) for name, part in built.parts.items()}
    record = record_result(built, solids)
    assert record.state == "held"
    assert [p.id for p in record.parts] == list(built.parts)
    for part in record.parts:
        plates = built.parts[part.id].part.plates
        assert part.solids == len(plates) == len(solids[part.id])
        assert abs(part.mass_difference_percent) < MASS_PERCENT
        assert part.centroid_difference_mm < CENTROID_MM
        assert part.mass_kg == pytest.approx(built.parts[part.id].steel.mass, rel=1e-3)


@pytest.mark.parametrize(
    ("factor", "shift", "differs"),
    [
        (1.0009, 0.0, False),
        (1.0011, 0.0, True),
        (0.9989, 0.0, True),
        (1.0, 9e-4, False),
        (1.0, 1.1e-3, True),
    ],
)
def test_a_tenth_of_a_per_cent_or_a_millimetre_is_a_difference(factor, shift, differs):
    built = demo()[0]

    def weighed(part):
        x, y, z = part.steel.centroid
        return replace(part.steel, mass=part.steel.mass * factor, centroid=(x, y + shift, z))

    solids = {name: [("whole", weighed(part))] for name, part in built.parts.items()}
    record = record_result(built, solids)
    assert record.state == ("differs" if differs else "held")
    assert {p.differs for p in record.parts} == {differs}
    one = record.parts[0]
    assert one.mass_difference_percent == pytest.approx(100 * (factor - 1), abs=1e-9)
    assert one.centroid_difference_mm == pytest.approx(1000 * shift, abs=1e-9)


def test_solids_of_a_part_are_weighed_together():
    built = demo()[0]
    part = built.parts["extension"]
    half = replace(part.steel, mass=part.steel.mass / 2)
    apart = [
        ("port", replace(half, centroid=tuple(np.add(part.steel.centroid, (0, -1, 0))))),
        ("starboard", replace(half, centroid=tuple(np.add(part.steel.centroid, (0, 1, 0))))),
    ]
    solids = {name: [("whole", p.steel)] for name, p in built.parts.items()}
    record = record_result(built, {**solids, "extension": apart})
    assert record.state == "held"
    assert next(p for p in record.parts if p.id == "extension").solids == 2
