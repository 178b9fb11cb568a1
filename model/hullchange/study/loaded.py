"""What a boat weighs in a condition, line by line, besides the lines of the refit."""

from collections.abc import Iterator

from hullchange.floating.liquids import liquid_integrals
from hullchange.geometry.frame import FloatArray
from hullchange.study.as_found import Found, as_it_lies
from hullchange.study.conditions import LoadingCondition
from hullchange.study.floats import Afloat
from hullchange.study.results import LoadedResult
from hullchange.study.wire import Point


def loaded(found: Found, there: Afloat, condition: LoadingCondition) -> Iterator[LoadedResult]:
    """The lines of a float; with those of the refit they add up to its mass and moments.

    What has no mass is left out.
    """
    afloat, weighing = found.afloat, there.weighing
    yield _line(
        "survey", float(afloat.numbers[0]), _place(afloat.numbers[1:] / afloat.numbers[0])
    )
    plane, up = found.fitted.plane, there.rest.plane.up
    for name, tank in found.liquids.items():
        yield _line(f"survey.liquids.{name}", -tank.mass, as_it_lies(tank, plane))
    for path, account in weighing.corrections:
        if account.mass:
            yield _line(path, account.mass, account.centre)
    for load in condition.loads:
        if load.mass:
            yield _line(load.path, load.mass, load.centre)
    for tank in there.rest.loading.tanks:
        if tank.mass:
            centre = liquid_integrals(tank, up).buoyancy_centre
            yield _line(f"liquids.{tank.name}", tank.mass, _place(centre))


def _line(path: str, mass: float, place: Point) -> LoadedResult:
    return LoadedResult(path=path, mass_kg=mass, at_m=place)


def _place(centre: FloatArray) -> Point:
    x, y, z = (float(c) for c in centre)
    return (x, y, z)
