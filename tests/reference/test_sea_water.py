"""Densities of water against the thermodynamic equation of seawater.

Source: TEOS-10 by its own library, gsw 3.6 (IOC, SCOR and IAPSO, 2010); handbook values 1.000
    and 1.025 and table of sea water at 0, 10, 20, 30 deg C: Tupper, Introduction to Naval
    Architecture, p. 84.
Seen: gsw run here; Tupper opened.
Known: the handbook's table is older than TEOS-10 and has one decimal; at 0 deg C it is 0.11
    low.
"""

import gsw
import pytest

from hullchange.materials import FRESH_WATER_DENSITY, SEA_WATER_DENSITY

OCEAN = 35.16504  # [g/kg] absolute salinity of the reference composition


def density(salinity, temperature_c):
    return float(gsw.rho(salinity, gsw.CT_from_t(salinity, temperature_c, 0.0), 0.0))


def test_handbook_constants_are_water_one_can_float_in():
    # within a thousandth of open-sea and lake water at 15 deg C
    assert pytest.approx(density(OCEAN, 15.0), rel=1e-3) == SEA_WATER_DENSITY
    assert pytest.approx(density(0.0, 15.0), rel=1e-3) == FRESH_WATER_DENSITY


def test_the_standard_point():
    assert density(35.17, 15.0) == pytest.approx(1025.98, abs=0.005)
    assert density(OCEAN, 15.0) == pytest.approx(1025.976, abs=0.0005)


@pytest.mark.parametrize(
    ("temperature_c", "printed"), [(10.0, 1026.9), (20.0, 1024.7), (30.0, 1021.7)]
)
def test_handbook_table(temperature_c, printed):
    # half the last digit, and what the older equation of state differs by
    assert density(OCEAN, temperature_c) == pytest.approx(printed, abs=0.05 + 0.02)
