"""The boat as surveyed: fitted water, mass, centre of gravity, and what was aboard that day."""

from dataclasses import dataclass
from math import sqrt
from typing import Protocol

import numpy as np

from hullchange.boat.boat import Boat
from hullchange.boat.entries import aboard_weight
from hullchange.boat.rooms import body_within, room_between
from hullchange.boat.weights import Weight, WeightSum, sum_of_weight, total
from hullchange.cache import cached
from hullchange.document import items
from hullchange.document.quantities import FINEST_READING_M
from hullchange.document.sections import Inclining, Survey
from hullchange.floating.envelope import Envelope
from hullchange.floating.equilibrium import Loading, Tank, equilibrium
from hullchange.floating.integrals import PlaneIntegrals
from hullchange.floating.liquids import liquid_integrals
from hullchange.floating.weight_slopes import upright_gm_slopes
from hullchange.geometry.frame import FloatArray, WaterPlane
from hullchange.geometry.surface import Surface, box, intersection, prism
from hullchange.hull.hull import Hull
from hullchange.hull.shape_error import ShapeErrors, shape_errors
from hullchange.survey.freeboards import (
    FittedPlane,
    FreeboardReading,
    SurveyedWeight,
    displaced_to_weight,
    fitted_plane,
    weighed_afloat,
)
from hullchange.survey.inclining import inclined_stiffness
from hullchange.survey.lines_error import LinesError

ORIGINS = {"inclining": "from an earlier inclining", "catalogue": "from a catalogue"}
"""Where a typed height of the centre of gravity is from; the other words stand as they are."""


@dataclass(frozen=True, eq=False)
class AsSurveyed:
    """The boat as surveyed.

    Attributes:
        readings: the freeboards, port before starboard at each mark.
        fitted: the water plane.
        afloat: her weight and its centre, with everything aboard.
        solid: the same without the liquids that move in a boxed tank; its covariance is that
            of the causes, without the lines.
        causes: path in the document and covariance (4, 4) of each cause, freeboards and VCG,
            in [kg] and [kg m].
        by_water: (4, 3) derivatives of ``solid`` by the water's sinkage [m], trim, heel [rad].
        height_sd: [m] of the centre of gravity, water and hull as they were found.
        shape: the errors of her lines, and what each adds to her weight.
        liquids: those liquids as they were on the day, by the tank's name.
        aboard: weight of each thing listed as aboard, liquids lying level.
        vcg_from: source of the height of the centre of gravity, in words.
    """

    readings: tuple[FreeboardReading, ...]
    fitted: FittedPlane
    afloat: SurveyedWeight
    solid: WeightSum
    causes: tuple[tuple[str, FloatArray], ...]
    by_water: FloatArray
    height_sd: float
    shape: LinesError
    liquids: dict[str, Tank]
    aboard: dict[str, WeightSum]
    vcg_from: str

    @property
    def covariance(self) -> FloatArray:
        """(4, 4) covariance of mass [kg] and moments [kg m], of all causes and the lines."""
        by_shape = self.shape.as_found
        return np.asarray(self.solid.covariance + by_shape @ by_shape.T)

    def drawn(self, normal: FloatArray) -> FloatArray:
        """(n, 4) sampled errors of mass [kg] and moments [kg m], without liquids that move.

        The weight stays straight over the sampled water, whatever height is sampled with it:
        so she lies as she was read to lie, however small her GM.

        Args:
            normal: (n, 4) draws [-] of freeboards and height, of standard deviation 1.
        """
        spread = np.linalg.cholesky(self.fitted.covariance)
        state = normal[:, :3] @ spread.T
        raised = self.afloat.numbers[0] * self.height_sd * normal[:, 3]
        trim, heel = self.fitted.plane.trim + state[:, 1], self.fitted.plane.heel + state[:, 2]
        up = [-np.tan(trim) / np.cos(heel), -np.tan(heel), np.ones_like(heel)]
        moved = state @ self.by_water.T
        moved[:, 1:] += raised[:, None] * np.stack(up, axis=1)
        return moved


def surveyed(boat: Boat) -> AsSurveyed:
    """The boat as surveyed, computed once for the same hull, existing parts and survey.

    Raises:
        ModelError: where the freeboards or the inclining do not fix her.
    """
    return _found(boat.unchanged)


def amidships(boat: Boat) -> float:
    """x [m] half-way between the perpendiculars."""
    return boat.document.hull.length_waterline_m / 2.0


def mark_points(boat: Boat) -> dict[str, FloatArray]:
    """(2, 3) sheer at each mark, port then starboard [m]."""
    points = {}
    for name, mark in boat.document.survey.marks.items():
        breadth = float(boat.hull.sheer(np.array([mark.x_m]))[0, 1])
        points[name] = np.array(
            [[mark.x_m, -breadth, mark.sheer_z_m], [mark.x_m, breadth, mark.sheer_z_m]]
        )
    return points


def tank_of(boat: Boat, name: str, volume: float) -> Tank:
    """A tank that has a shape, with a volume of liquid [m^3] in it.

    Raises:
        ModelError: ``tank-volume`` where it does not hold that much; ``room-empty`` where
            nothing of what it is within lies between its ends.
    """
    tank = boat.document.tanks[name]
    return _filled(name, tank, volume, boat.hull if tank.within else None)


@cached(256)
def _filled(name: str, tank: items.DocumentTank, volume: float, hull: Hull | None) -> Tank:
    return Tank(_inside(name, tank, hull), volume, tank.liquid_density(), name)


def _inside(name: str, tank: items.DocumentTank, hull: Hull | None) -> Surface:
    body = None
    if hull is not None and tank.within is not None:
        body = body_within(hull, tank.within, tank.plate_mm)
        if tank.x_m is not None:
            return room_between(body, (tank.x_m, tank.y_m, tank.z_m), f"tanks.{name}")
    if tank.box_m is not None:
        sides = np.array([tank.box_m.x, tank.box_m.y, tank.box_m.z])
        shape = box(sides[:, 0], sides[:, 1])
    else:
        assert tank.outline_m is not None
        assert tank.z_m is not None
        shape = prism(np.array(tank.outline_m), *tank.z_m)
    return shape if body is None else intersection(shape, body)


def surveyed_envelope(boat: Boat) -> Envelope:
    """What floats of the boat as found."""
    existing = (piece for part in boat.existing.values() for piece in part.bodies)
    return Envelope((*boat.hull_bodies, *existing))


@cached(8)
def _found(boat: Boat) -> AsSurveyed:
    survey = boat.document.survey
    readings = tuple(_readings(boat))
    fitted = fitted_plane(readings, amidships(boat))
    envelope = surveyed_envelope(boat)
    density = survey.water.density_kg_m3
    liquids = _liquids_aboard(boat)
    vcg = _vcg(survey, envelope, fitted.plane, liquids)
    afloat = weighed_afloat(
        fitted,
        lambda plane: _volume_and_centre(envelope.integrals(plane)),
        density,
        vcg.height,
        lambda plane: _as_they_lie(liquids, plane),
        amidships(boat),
    )
    errors = _errors(boat.hull)
    by_shape = displaced_to_weight(fitted.plane, vcg.height) @ (
        density * errors.below(fitted.plane)
    )
    by_water, raised = afloat.by_water, vcg.sd * afloat.by_height
    if vcg.test is not None:
        heeled = _heeled_alike(vcg.test, afloat, errors)
        by_shape, by_water = heeled(by_shape, of_shape=True), heeled(by_water, of_shape=False)
    causes = (
        ("survey.marks", by_water @ fitted.covariance @ by_water.T),
        (vcg.path, np.outer(raised, raised)),
    )
    solid = WeightSum.of(afloat.solid, np.sum([part for _, part in causes], axis=0))
    aboard = {name: sum_of_weight(aboard_weight(boat.document, name)) for name in survey.aboard}
    shape = LinesError(errors, by_shape)
    of_solid = (solid, causes, by_water, vcg.sd, shape)
    return AsSurveyed(readings, fitted, afloat, *of_solid, liquids, aboard, vcg.source)


def _readings(boat: Boat) -> list[FreeboardReading]:
    survey = boat.document.survey
    readings = []
    for name, points in mark_points(boat).items():
        mark = survey.marks[name]
        given = mark.plus_minus_m
        sd = given if given and given >= FINEST_READING_M else survey.plus_minus_m
        (px, py, pz), (sx, sy, sz) = points.tolist()
        read = mark.freeboard_m
        readings.append(FreeboardReading(name, "port", (px, py, pz), read.port, sd))
        readings.append(FreeboardReading(name, "starboard", (sx, sy, sz), read.starboard, sd))
    return readings


def _liquids_aboard(boat: Boat) -> dict[str, Tank]:
    """Liquids of the survey that move in a boxed tank, by the tank's name."""
    document = boat.document
    return {
        item.tank: tank_of(boat, item.tank, item.fill_l / 1000.0)
        for item in document.survey.aboard.values()
        if isinstance(item, items.FillAboard)
        and item.fill_l > 0.0
        and document.tanks[item.tank].has_shape
    }


def level_centre(tank: Tank, plane: WaterPlane) -> tuple[float, float, float]:
    """Centre [m] of a liquid that lies level."""
    x, y, z = (float(c) for c in liquid_integrals(tank, plane.up).buoyancy_centre)
    return (x, y, z)


def _as_they_lie(liquids: dict[str, Tank], plane: WaterPlane) -> FloatArray:
    """(4,) mass [kg] and moments [kg m] of liquids that lie level."""
    lying = (
        sum_of_weight(Weight(name, tank.mass, level_centre(tank, plane)))
        for name, tank in liquids.items()
    )
    return total(lying).numbers


@cached(8)
def _errors(hull: Hull) -> ShapeErrors:
    return shape_errors(hull)


def _volume_and_centre(below: PlaneIntegrals) -> tuple[float, FloatArray]:
    if below.volume <= 0.0:
        return 0.0, np.zeros(3)
    return below.volume, below.buoyancy_centre


@dataclass(frozen=True, eq=False)
class _Height:
    """Height of the centre of gravity of all aboard.

    Attributes:
        height: [m] above the design waterline.
        sd: [m] one standard deviation, of hull and water as they are.
        source: where it is from, in words.
        path: of the figures it is from.
        test: plane, liquids and water density of the inclining it is from, and the GM found.
    """

    height: float
    sd: float
    source: str
    path: str
    test: "_Test | None" = None


@dataclass(frozen=True, eq=False)
class _Test:
    """An inclining: the envelope in its water, what was slack, and the GM [m] it gave."""

    envelope: Envelope
    water_density: float
    plane: WaterPlane
    tanks: tuple[Tank, ...]
    gm: float


def _vcg(
    survey: Survey, envelope: Envelope, plane: WaterPlane, liquids: dict[str, Tank]
) -> _Height:
    """Height of the centre of gravity."""
    if survey.vcg is not None:
        source = (
            f"typed in, {ORIGINS.get(survey.vcg.from_, survey.vcg.from_)}, not measured "
            "with this hull"
        )
        return _Height(survey.vcg.z_m, survey.vcg.plus_minus_m, source, "survey.vcg")
    assert survey.inclining is not None
    test = survey.inclining
    result = inclined_stiffness(
        tuple(r.moment_kgm for r in test.readings), tuple(r.heel_deg for r in test.readings)
    )
    density = survey.water.density_kg_m3
    mass = envelope.integrals(plane).volume * density
    gm = result.stiffness / mass
    centre, there = _below_metacentre(gm, envelope, plane, liquids, mass), plane
    water = density if test.water is None else test.water.density_kg_m3
    if water != density:
        there = equilibrium(envelope, Loading(mass, centre), water, plane).plane
        centre = _below_metacentre(gm, envelope, there, liquids, mass)
    return _Height(
        float(centre[2]),
        sqrt((result.sd / mass) ** 2 + (gm * _systematic(test)) ** 2),
        f"inclining, GM times displacement measured as {result.stiffness:,.0f} kg·m",
        "survey.inclining",
        _Test(envelope, water, there, tuple(liquids.values()), gm),
    )


class _Alike(Protocol):
    """Changes (4, q) of what she weighs, with her height such that she heels as she did."""

    def __call__(self, changes: FloatArray, *, of_shape: bool) -> FloatArray: ...


def _heeled_alike(test: _Test, afloat: SurveyedWeight, errors: ShapeErrors) -> _Alike:
    """How the height of her centre of gravity answers, so that she heels as she was read to.

    What was measured is GM times displacement: a hull of more form has her centre of gravity
    higher, and one that displaces more has less GM.
    """
    solid = afloat.solid
    loading = Loading(float(solid[0]), solid[1:] / solid[0], test.tanks)
    rest = equilibrium(test.envelope, loading, test.water_density, test.plane)
    by_weight = upright_gm_slopes(rest.upright)

    def alike(changes: FloatArray, *, of_shape: bool) -> FloatArray:
        gains = (
            LinesError(errors, changes).on_gm(rest.upright, by_weight)
            if of_shape
            else by_weight @ changes
        )
        wanted = -test.gm * changes[0] / afloat.numbers[0]
        raised = (wanted - gains) / (by_weight @ afloat.by_height)
        return changes + np.outer(afloat.by_height, raised)

    return alike


def _below_metacentre(
    gm: float, envelope: Envelope, plane: WaterPlane, liquids: dict[str, Tank], mass: float
) -> FloatArray:
    """(3,) centre of gravity [m] of a boat with a metacentric height, free surfaces and all."""
    below = envelope.integrals(plane)
    across = _across(plane)
    bm = across @ below.waterplane_inertia @ across / below.volume
    lost = sum(_free_surface(tank, plane) for tank in liquids.values()) / mass
    return below.buoyancy_centre + plane.up * float(bm - lost - gm)


def _across(plane: WaterPlane) -> FloatArray:
    """(3,) unit vector in the water's surface, square to the boat's length."""
    across = np.array([0.0, plane.up[2], -plane.up[1]])
    return across / float(np.linalg.norm(across))


def _systematic(test: Inclining) -> float:
    """Share of GM that an error of all moments, and of the heels' scale, is worth."""
    widest = max(abs(r.heel_deg) for r in test.readings)
    of_heel = test.plus_minus_deg / widest / sqrt(len(test.readings))
    return sqrt((test.plus_minus_moment_percent / 100.0) ** 2 + of_heel**2)


def _free_surface(tank: Tank, plane: WaterPlane) -> float:
    """Free-surface moment of a liquid [kg m per radian of heel]."""
    inertia = liquid_integrals(tank, plane.up).waterplane_inertia
    across = _across(plane)
    return tank.liquid_density * float(across @ inertia @ across)
