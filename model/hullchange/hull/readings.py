"""Readings of the lines that do not fit the others: a list of what to measure again."""

import numpy as np

from hullchange.findings import Finding, Severity
from hullchange.geometry.frame import FloatArray
from hullchange.hull.lines import READING_SD, HullLine, Lines
from hullchange.units import mm_of_m

THRESHOLD = 4.5  # studentised; at 3.5 three times as many good hulls are blamed (own trial)
SMALLEST = 3.0 * READING_SD  # [m] below which a misfit is the tape's
FEWEST = 10  # points for a polynomial of the higher of two degrees to be tested
MANY = 13  # points from which the higher pair of degrees is used
STEM_SLOPE = 0.5  # rise over run from which a line runs along the stem
SOURCE = (
    "studentised deleted residual of a polynomial through the line; with 5 mm of noise slips "
    "of 50 mm were found in 77 % on fair lines and 51 % on lines that follow a stem, and 5 to "
    "13 % of good hulls blamed (own trial)"
)


def misfit_findings(lines: Lines) -> tuple[Finding, ...]:
    """Warnings ``reading-does-not-fit``, at most one per line and coordinate.

    A reading is listed where polynomials of two degrees, fitted to the others, both miss it by
    more than the scatter of the others explains. What runs along the stem is left out:
    no polynomial follows it. It is a hint, not proof: one line is compared with itself only.
    """
    return tuple(
        finding
        for line in lines.lines
        for column in (1, 2)
        if np.ptp(line.points[:, column]) > 0.0
        for finding in _misfit(line, column)
    )


def deleted_residuals(design: FloatArray, values: FloatArray) -> tuple[FloatArray, FloatArray]:
    """Studentised deleted residuals (n,) [-], and residuals (n,) from the fit to the others.

    Args:
        design: (n, p) regressors [-], p < n - 1.
        values: (n,) readings in any unit [-]; the second residuals are in it too.

    Source: R. D. Cook and S. Weisberg, Residuals and Influence in Regression, 1982 (memory).
    """
    count, terms = design.shape
    q, _ = np.linalg.qr(design)
    leverage = np.einsum("ij,ij->i", q, q)
    residual = values - q @ (q.T @ values)
    left = np.maximum(1.0 - leverage, np.finfo(float).eps)
    without = (residual @ residual - residual**2 / left) / (count - terms - 1)
    scatter = np.sqrt(np.maximum(without, np.finfo(float).tiny))
    return residual / (scatter * np.sqrt(left)), residual / left


def _misfit(line: HullLine, column: int) -> list[Finding]:
    first, stop = _off_the_stem(line)
    points = line.points[first:stop]
    if len(points) < FEWEST + len(line.knuckles):
        return []
    degree = 5 if len(points) >= MANY + len(line.knuckles) else 4
    tests = [
        deleted_residuals(_design(points[:, 0], d, line.knuckles), points[:, column])
        for d in (degree, degree + 1)
    ]
    size = np.min([np.abs(studentised) for studentised, _ in tests], axis=0)
    off = tests[0][1]
    size[np.abs(off) < SMALLEST] = 0.0
    worst = int(np.argmax(size))
    if size[worst] <= THRESHOLD:
        return []
    x, more = points[worst, 0], off[worst] > 0.0
    words = (
        ("wider" if more else "narrower") if column == 1 else ("higher" if more else "lower")
    )
    sentence = (
        f"The reading of line {line.name} at x {x:.2f} m is {mm_of_m(abs(off[worst])):.0f} mm "
        f"{words} than the curve through the others. Measure it again; a tape from chine to "
        "chine at that station decides."
    )
    place = line.place(first + worst)
    return [Finding("reading-does-not-fit", Severity.WARN, place, sentence, SOURCE)]


def _off_the_stem(line: HullLine) -> tuple[int, int]:
    """First point, and one past the last, of what is not steep at either end."""
    gentle = np.abs(np.diff(line.points[:, 2]) / np.diff(line.points[:, 0])) <= STEM_SLOPE
    if not gentle.any():
        return 0, 0
    runs = np.flatnonzero(gentle)
    return int(runs[0]), int(runs[-1]) + 2


def _design(x: FloatArray, degree: int, knuckles: tuple[float, ...]) -> FloatArray:
    """(n, p) polynomials up to a degree, and a corner at every knuckle."""
    scaled = 2.0 * (x - x[0]) / (x[-1] - x[0]) - 1.0
    corners = [np.maximum(x - k, 0.0) for k in knuckles if x[0] < k < x[-1]]
    return np.column_stack([np.polynomial.chebyshev.chebvander(scaled, degree), *corners])
