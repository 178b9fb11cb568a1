"""Unit conversions at the edge: inside everything is SI, outside every name has its unit."""

import math

MM_PER_M = 1000.0
STANDARD_GRAVITY = 9.80665  # [m/s^2] CGPM 1901


def m_of_mm(length_mm: float) -> float:
    """[m] of a length in [mm]."""
    return length_mm / MM_PER_M


def mm_of_m(length: float) -> float:
    """[mm] of a length in [m]."""
    return length * MM_PER_M


def span_in_mm(low: float, high: float) -> str:
    """Two lengths [m] in words: one figure where both read the same.

    >>> span_in_mm(0.005, 0.00504), span_in_mm(0.0024, 0.006)
    ('5.0 mm', '2.4 to 6.0 mm')
    """
    first, last = (f"{mm_of_m(one):.1f}" for one in (low, high))
    return f"{last} mm" if first == last else f"{first} to {last} mm"


def rad_of_deg(angle_deg: float) -> float:
    """[rad] of an angle in [deg]."""
    return math.radians(angle_deg)


def deg_of_rad(angle: float) -> float:
    """[deg] of an angle in [rad]."""
    return math.degrees(angle)
