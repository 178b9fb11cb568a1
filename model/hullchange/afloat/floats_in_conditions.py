"""Floats as rows of the answer: one boat in one condition, with what is not known of it."""

from collections.abc import Iterator
from dataclasses import dataclass

from hullchange.afloat.at_rest import NO_REST, Afloat, afloat
from hullchange.afloat.slopes import height_sd, plus_minus, slopes_of
from hullchange.afloat.uncertainty import (
    FloatUncertainty,
    change_covariance,
    change_is_sampled,
    sampled_upright,
)
from hullchange.afloat.uncertainty_shares import Cause, causes_of, shares_of
from hullchange.answer.assessment import (
    ConditionResult,
    Difference,
    FreeboardResult,
    LoadedResult,
    MarkFreeboard,
    UnansweredResult,
)
from hullchange.answer.rooms import FloodedResult
from hullchange.answer.wire import Point, Side, Stage
from hullchange.boat.boat import Boat
from hullchange.boat.compartments import COMPARTMENTS
from hullchange.boat.conditions import LoadingCondition
from hullchange.boat.variants import Variant, as_found, refit
from hullchange.cache import cached
from hullchange.errors import ModelError
from hullchange.floating.equilibrium import Equilibrium
from hullchange.floating.integrals import integrals_below
from hullchange.floating.liquids import liquid_integrals
from hullchange.geometry.frame import FloatArray
from hullchange.survey.as_found import AsSurveyed, amidships, level_centre, mark_points
from hullchange.units import deg_of_rad, mm_of_m

SIDES: tuple[Side, Side] = ("port", "starboard")
KG_PER_CM, CM_PER_M = 100.0, 100.0


@dataclass(frozen=True, eq=False)
class FloatInCondition:
    """A float with what is not known of it, what it weighs, and what each cause adds."""

    stage: Stage
    condition: LoadingCondition
    spread: FloatUncertainty
    loaded: tuple[LoadedResult, ...]
    causes: tuple[Cause, ...]

    @property
    def afloat(self) -> Afloat:
        """The boat at rest with what she weighs."""
        return self.spread.there

    @property
    def rest(self) -> Equilibrium:
        """The boat at rest."""
        return self.afloat.rest


@dataclass(frozen=True, eq=False)
class Answered:
    """A float and its answer."""

    row: FloatInCondition
    answer: ConditionResult


def answers_of(
    boat: Boat, as_surveyed: AsSurveyed, condition: LoadingCondition
) -> tuple[Answered | UnansweredResult, ...]:
    """Each boat that a condition is run for, with its answer, or why there is none.

    The refit's answer carries what has changed.
    """
    before: FloatInCondition | None = None
    answers: list[Answered | UnansweredResult] = []
    for stage in condition.stages:
        try:
            row = _row(boat, as_surveyed, condition, stage)
            answer = _result(boat, row, before)
        except ModelError as error:
            if error.code not in NO_REST:
                raise
            answers.append(UnansweredResult.of(condition.id, stage, error))
        else:
            before = row
            answers.append(Answered(row, answer))
    return tuple(answers)


def surveyed_row(boat: Boat, as_surveyed: AsSurveyed) -> FloatInCondition:
    """The boat as found, in the water and with all that was aboard on the day."""
    density = boat.document.survey.water.density_kg_m3
    as_she_was = LoadingCondition("survey", density, frozenset(), {}, (), (), ("as_found",))
    return _row(boat, as_surveyed, as_she_was, "as_found")


def _row(
    boat: Boat, as_surveyed: AsSurveyed, condition: LoadingCondition, stage: Stage
) -> FloatInCondition:
    # the boat as found stays while the refit is edited
    if stage == "as_found":
        return _kept_row(boat.unchanged, as_surveyed, condition)
    return _fresh_row(boat, as_surveyed, condition, refit(boat))


@cached(64)
def _kept_row(
    unchanged: Boat, as_surveyed: AsSurveyed, condition: LoadingCondition
) -> FloatInCondition:
    return _fresh_row(unchanged, as_surveyed, condition, as_found(unchanged))


def _fresh_row(
    boat: Boat, as_surveyed: AsSurveyed, condition: LoadingCondition, variant: Variant
) -> FloatInCondition:
    there = afloat(boat, as_surveyed, variant, condition)
    x, length = amidships(boat), boat.document.hull.length_waterline_m
    slopes = slopes_of(there.rest, x, length, as_surveyed.shape)
    causes = tuple(causes_of(as_surveyed, there.weights, condition))
    spread = FloatUncertainty(there, slopes, x, length)
    return FloatInCondition(
        variant.stage, condition, spread, tuple(loaded(as_surveyed, there, condition)), causes
    )


def _result(boat: Boat, row: FloatInCondition, old: FloatInCondition | None) -> ConditionResult:
    rest, plane = row.rest, row.rest.plane
    length, covariance = boat.document.hull.length_waterline_m, row.spread.covariance
    freeboards = _freeboards(boat, rest, covariance)
    change = None if old is None else _change(boat, old, row)
    lcg, tcg, vcg = map(float, rest.centre_of_gravity)
    return ConditionResult(
        id=row.condition.id,
        stage=row.stage,
        water_density_kg_m3=row.condition.water_density,
        displacement_kg=rest.mass,
        centre_of_gravity_m=(lcg, tcg, vcg),
        vcg_above_keel_m=vcg + boat.hull.draught,
        loaded=row.loaded,
        plus_minus=plus_minus(covariance),
        plus_minus_by=row.spread.method,
        sampled=sampled_upright(row.spread) if row.spread.doubtful else None,
        shares=shares_of(row.causes, row.spread.slopes, boat.hull.guessed),
        sinkage_mm=mm_of_m(plane.sinkage(amidships(boat))),
        sinkage_bow_mm=mm_of_m(plane.water_height(0.0)),
        sinkage_stern_mm=mm_of_m(plane.water_height(length)),
        trim_mm=mm_of_m(plane.trim_between_perpendiculars(length)),
        trim_deg=deg_of_rad(plane.trim),
        heel_deg=deg_of_rad(plane.heel),
        upside_down=rest.capsized,
        water_offset_m=plane.offset,
        freeboards=freeboards,
        freeboards_at_marks=at_marks(freeboards, change),
        gm_m=rest.upright.gm_transverse,
        gm_at_rest_m=rest.gm_transverse,
        gm_solid_m=rest.upright.gm_transverse_solid,
        km_m=float(rest.upright.metacentre_transverse[2]),
        gm_longitudinal_m=rest.gm_longitudinal,
        waterplane_area_m2=rest.integrals.waterplane_area,
        kg_per_cm=rest.water_density * rest.integrals.waterplane_area / KG_PER_CM,
        trim_moment_kgm_per_cm=rest.mass * rest.gm_longitudinal / (CM_PER_M * length),
        lcf_m=float(rest.integrals.flotation_centre[0]),
        change=change,
        flooded=tuple(_lost(boat, rest)),
    )


def _lost(boat: Boat, rest: Equilibrium) -> Iterator[FloodedResult]:
    """What the sea fills of each compartment that is open to it."""
    for piece in rest.envelope.pieces:
        if piece.id.startswith(COMPARTMENTS):
            name = piece.id.removeprefix(COMPARTMENTS)
            share = boat.document.hull.compartments[name].permeability
            yield FloodedResult(
                id=name,
                permeability=share,
                room_m3=piece.surface.volume / share,
                water_m3=integrals_below(piece.surface, rest.plane).volume,
            )


def at_marks(
    freeboards: tuple[FreeboardResult, ...], change: Difference | None
) -> tuple[MarkFreeboard, ...]:
    """Both sides of each mark together."""
    changed = {} if change is None else _by_mark(change.freeboards)
    return tuple(
        MarkFreeboard(
            mark=mark,
            port_mm=sides["port"],
            starboard_mm=sides["starboard"],
            mean_mm=sum(sides.values()) / len(sides),
            change_mm=sum(changed[mark].values()) / len(sides) if mark in changed else None,
        )
        for mark, sides in _by_mark(freeboards).items()
    )


def _by_mark(freeboards: tuple[FreeboardResult, ...]) -> dict[str, dict[Side, float]]:
    marks: dict[str, dict[Side, float]] = {}
    for one in freeboards:
        marks.setdefault(one.mark, {})[one.side] = one.freeboard_mm
    return marks


def _freeboards(
    boat: Boat, rest: Equilibrium, covariance: FloatArray
) -> tuple[FreeboardResult, ...]:
    length = boat.document.hull.length_waterline_m
    return tuple(
        FreeboardResult(
            mark=mark,
            side=side,
            half_breadth_m=abs(float(point[1])),
            freeboard_mm=mm_of_m(float(height)),
            plus_minus_mm=mm_of_m(
                height_sd(covariance, float(point[0]) / length, float(point[1]))
            ),
        )
        for mark, points in mark_points(boat).items()
        for side, point, height in zip(
            SIDES, points, rest.plane.height_above(points), strict=True
        )
    )


def _change(boat: Boat, before: FloatInCondition, after: FloatInCondition) -> Difference:
    """The refit minus the boat as found: what both share cancels but for their stiffness."""
    was, now, x = before.rest, after.rest, amidships(boat)
    length = boat.document.hull.length_waterline_m
    covariance = change_covariance(before.spread, after.spread)
    sampled = change_is_sampled(before.spread, after.spread)
    moved = now.centre_of_gravity - was.centre_of_gravity
    old = _freeboards(boat, was, covariance)
    new = _freeboards(boat, now, covariance)
    return Difference(
        displacement_kg=now.mass - was.mass,
        lcg_m=float(moved[0]),
        tcg_m=float(moved[1]),
        vcg_m=float(moved[2]),
        sinkage_mm=mm_of_m(now.plane.sinkage(x) - was.plane.sinkage(x)),
        sinkage_bow_mm=mm_of_m(now.plane.water_height(0.0) - was.plane.water_height(0.0)),
        sinkage_stern_mm=mm_of_m(
            now.plane.water_height(length) - was.plane.water_height(length)
        ),
        trim_mm=mm_of_m(
            now.plane.trim_between_perpendiculars(length)
            - was.plane.trim_between_perpendiculars(length)
        ),
        trim_deg=deg_of_rad(now.plane.trim - was.plane.trim),
        heel_deg=deg_of_rad(now.plane.heel - was.plane.heel),
        gm_m=now.upright.gm_transverse - was.upright.gm_transverse,
        freeboards=tuple(
            n.model_copy(update={"freeboard_mm": n.freeboard_mm - o.freeboard_mm})
            for n, o in zip(new, old, strict=True)
        ),
        plus_minus=plus_minus(covariance),
        plus_minus_by="sampled" if sampled else "linear",
    )


def loaded(
    as_surveyed: AsSurveyed, there: Afloat, condition: LoadingCondition
) -> Iterator[LoadedResult]:
    """The lines of a float; with those of the refit they add up to its mass and moments.

    What has no mass is left out.
    """
    afloat, weights = as_surveyed.afloat, there.weights
    yield _line(
        "survey", float(afloat.numbers[0]), _place(afloat.numbers[1:] / afloat.numbers[0])
    )
    plane, up = as_surveyed.fitted.plane, there.rest.plane.up
    for name, tank in as_surveyed.liquids.items():
        yield _line(f"survey.liquids.{name}", -tank.mass, level_centre(tank, plane))
    for path, account in weights.corrections:
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
