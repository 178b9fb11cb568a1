"""Mass of plates, flat bars and tubes as the trade counts it.

Source: EN 1991-1-1:2002, table A.4 (steel 77.0 to 78.5 kN/m3), and the convention of EN 10029
    and EN 10025 deliveries: 7.85 kg per m2 and mm of plate. Flat bars: EN 10058, mass per metre
    from the nominal section. Tubes: EN 10220, M = (D - T) T 0.0246615 kg/m.
Seen: the standards from memory; quoted elsewhere the density (Tata Steel's section tables,
    general notes 2.1: masses assume 7850 kg/m3) and the tube's factor (a stockist's page).
Known: rolling tolerances (EN 10029 class A: plates run thicker) are not in it.
"""

import numpy as np
import pytest

from hullchange.geometry.frame import Frame
from hullchange.geometry.outline import FlatOutline
from hullchange.geometry.plate import Planar, Plate
from hullchange.geometry.surface import mass_properties
from hullchange.materials import STEEL_DENSITY
from hullchange.parts.steelwork import flat_bar

X, Y, Z = np.eye(3)


@pytest.mark.parametrize("thickness_mm", [1, 2.5, 3, 4, 5, 6, 8, 10, 12])
def test_plate_weighs_7_85_kg_per_square_metre_and_millimetre(thickness_mm):
    square = FlatOutline.rectangle((0.0, 0.0), (1.0, 1.0))
    plate = Plate("p", "plate", square, thickness_mm / 1000.0, Planar(Frame(np.zeros(3), X, Y)))
    assert plate.mass(STEEL_DENSITY) == pytest.approx(7.85 * thickness_mm, rel=1e-12)
    assert mass_properties(plate.surface(), STEEL_DENSITY).mass == pytest.approx(
        7.85 * thickness_mm, rel=1e-12
    )


@pytest.mark.parametrize(
    ("depth_mm", "thickness_mm", "kg_per_m"),
    [
        (30, 5, 1.18),
        (40, 4, 1.26),
        (50, 5, 1.96),
        (60, 6, 2.83),
        (80, 8, 5.02),
        (100, 10, 7.85),
    ],
)
def test_flat_bars(depth_mm, thickness_mm, kg_per_m):
    bar = flat_bar("b", np.zeros(3), X, Z, (depth_mm / 1000.0, thickness_mm / 1000.0))
    assert bar.mass(STEEL_DENSITY) == pytest.approx(kg_per_m, abs=0.005)


@pytest.mark.parametrize(("diameter", "wall"), [(42.4, 3.2), (60.3, 4.0), (88.9, 6.3), (89, 6)])
def test_tubes(diameter, wall):
    outer, bore = (
        FlatOutline.circle((0, 0), d / 2000.0) for d in (diameter, diameter - 2 * wall)
    )
    tube = Plate("t", "tube", outer, 1.0, Planar(Frame(np.zeros(3), X, Y)), (bore,))
    # the factor is pi 7.85e-3, printed to six digits
    by_formula = (diameter - wall) * wall * 0.0246615
    assert tube.mass(STEEL_DENSITY) == pytest.approx(by_formula, rel=1e-6)
    assert mass_properties(tube.surface(), STEEL_DENSITY).mass == pytest.approx(
        by_formula, rel=1e-6
    )
