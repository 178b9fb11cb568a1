"""A person aboard the boat as found and the refit: headroom, and her line of sight at rest."""

from collections.abc import Iterable, Iterator

import numpy as np

from hullchange.afloat.person_aboard import (
    FIGURES,
    PersonAboard,
    aboard,
    assumes_sole,
    sole_of,
)
from hullchange.answer.assessment import ConditionAnswer, ConditionResult, UnansweredResult
from hullchange.answer.person import (
    HeadroomResult,
    HeadroomStation,
    HiddenSector,
    LowHeadroom,
    PersonResult,
    Posture,
    SightChange,
    SightResult,
    SolePointResult,
)
from hullchange.boat.boat import Boat
from hullchange.boat.built import BuiltPart
from hullchange.cache import cached
from hullchange.findings import Finding, Severity
from hullchange.geometry.frame import FloatArray, WaterPlane, up_vector
from hullchange.hull.hull import Hull
from hullchange.person.headroom import Headroom, below, headroom
from hullchange.person.sight import Lookout, Obstacles, Sector, Sight, hidden_sectors
from hullchange.units import deg_of_rad, m_of_mm, mm_of_m, rad_of_deg

HULL = "hull"
LENGTHS = (2, 4)
"""Boat lengths ahead of the bow at which to ask what would bring the water into view."""
POSTURES: tuple[Posture, Posture] = ("standing", "seated")
NO_EYE = "The boat floats upside down or on her side."
NO_WATER = "No water can be seen ahead: what stands in front of the helm is as high as the eye."


def with_person(
    boat: Boat, answers: tuple[ConditionAnswer, ...], *, whole: bool
) -> tuple[PersonResult | None, tuple[ConditionAnswer, ...]]:
    """Headroom and sight, and the answers with the figures of both.

    Args:
        boat: everything built.
        answers: each boat in each condition that is asked for.
        whole: with the sectors that are hidden to the sides, which take longest.
    """
    boats = aboard(boat)
    if not boats:
        return None, answers
    sole = sole_of(boats)
    rooms = () if sole is None else tuple(_headrooms(boats, sole))
    sights = tuple(_sights(boat, boats, answers))
    result = PersonResult(
        height_m=boats[0].person.height_m,
        sole_given="assumed" if assumes_sole(boat.document) else "entered",
        sole=()
        if sole is None
        else tuple(SolePointResult(x_m=x, z_m=z) for x, z in sole.tolist()),
        headroom=rooms,
        helms=tuple(one.helm for one in boats if one.helm is not None),
        sights=sights,
        hidden=tuple(_hidden(boats)) if whole else (),
    )
    return result, tuple(_with_figures(row, result) for row in answers)


def person_findings(boat: Boat, person: PersonResult | None) -> Iterator[Finding]:
    """What is assumed of where she stands, and where she cannot stand or see."""
    if person is None:
        return
    if person.sole_given == "assumed" and person.sole:
        sentence = (
            f"The cabin sole is not entered: it is assumed at z {person.sole[0].z_m:+.2f} m, "
            "the lowest at which the hull is 600 mm wide. Measure it and enter it."
        )
        yield Finding("sole-assumed", Severity.NOTE, "person", sentence)
    if boat.document.person and boat.document.person.helm is None:
        where = "assumed from the cockpit" if person.helms else "not known"
        sentence = f"The helm is not entered: its place is {where}. Enter it."
        yield Finding("helm-assumed", Severity.NOTE, "person", sentence)
    for sole in person.sole:
        bottom = float(boat.hull.bottom_z(np.array([sole.x_m]), np.zeros(1))[0])
        if sole.z_m < bottom:
            sentence = (
                f"The cabin sole, z {sole.z_m:+.2f} m, lies below the hull's bottom at x "
                f"{sole.x_m:.2f} m, z {bottom:+.2f} m: measure it again."
            )
            yield Finding("sole-below-hull", Severity.WARN, "person", sentence)
    yield from (_headroom_finding(person, room) for room in person.headroom if _is_short(room))
    for sight in person.sights:
        if sight.why and sight.id == boat.document.reference_condition:
            of = "boat as found" if sight.stage == "as_found" else "refit"
            sentence = f"At the helm of the {of}, {sight.posture}: {sight.why}"
            yield Finding("no-water-in-sight", Severity.NOTE, "person", sentence)


def _is_short(room: HeadroomResult) -> bool:
    return room.stage == "refit" and room.spare_m is not None and room.spare_m < 0.0


def _headroom_finding(person: PersonResult, room: HeadroomResult) -> Finding:
    """That she cannot stand upright in a house."""
    assert room.least_m is not None
    assert room.least_x_m is not None
    assert room.spare_m is not None
    sentence = (
        f"Headroom in {room.id.replace('-', ' ')} is {room.least_m:.2f} m at x "
        f"{room.least_x_m:.2f} m, {mm_of_m(-room.spare_m):.0f} mm less than the "
        f"person's {person.height_m:.2f} m: raise the roof, or lower the sole."
    )
    return Finding("headroom-short", Severity.NOTE, "person", sentence)


def _with_figures(row: ConditionAnswer, person: PersonResult) -> ConditionAnswer:
    if isinstance(row, UnansweredResult):
        return row
    rooms = [room.least_m for room in person.headroom if room.stage == row.stage]
    seen = {
        FIGURES[sight.posture]: sight.blind_m
        for sight in person.sights
        if (sight.id, sight.stage) == (row.id, row.stage)
    }
    least = min((room for room in rooms if room is not None), default=None)
    return row.model_copy(update={"headroom_least_m": least, **seen})


def _headrooms(boats: tuple[PersonAboard, ...], sole: FloatArray) -> Iterator[HeadroomResult]:
    for one in boats:
        for house in one.houses:
            found = headroom(house, sole, m_of_mm(one.person.lining_mm))
            yield _headroom_result(one, house.id, found)


def _headroom_result(one: PersonAboard, name: str, found: Headroom) -> HeadroomResult:
    least, aside = found.least(found.middle), found.least(found.off_centre)
    height = one.person.height_m
    under = found.roofed > 0.0
    low = [
        LowHeadroom(where=where, from_x_m=start, to_x_m=end)
        for where, room in (("middle", found.middle), ("off centre", found.off_centre))
        for start, end in below(room[under], found.x[under], height)
    ]
    rows = np.stack([found.x, found.sole, found.middle, found.off_centre], axis=1).tolist()
    return HeadroomResult(
        id=name,
        stage=one.stage,
        least_m=least and least[0],
        least_x_m=least and least[1],
        least_off_centre_m=aside and aside[0],
        spare_m=least and least[0] - height,
        low=tuple(low),
        stations=tuple(
            HeadroomStation(x_m=x, sole_z_m=z, middle_m=_number(m), off_centre_m=_number(o))
            for x, z, m, o in rows
        ),
    )


def _number(value: float) -> float | None:
    """The value [m], where there is one."""
    return value if np.isfinite(value) else None


def _sights(
    boat: Boat, boats: tuple[PersonAboard, ...], answers: Iterable[ConditionAnswer]
) -> Iterator[SightResult]:
    by_stage = {one.stage: one for one in boats}
    for row in answers:
        if isinstance(row, UnansweredResult):
            continue
        for posture in POSTURES:
            eye = by_stage[row.stage].eye(posture)
            if eye is not None:
                yield _sight(boat, by_stage[row.stage], row, posture, eye)


def _sight(
    boat: Boat, one: PersonAboard, row: ConditionResult, posture: Posture, eye: FloatArray
) -> SightResult:
    water, under = water_of(row), one.roof_over(eye)
    lookout = _lookout(_point(eye), one.hull, one.parts)
    sight = None if under or water is None else lookout.sight(water, HULL)
    changes: tuple[SightChange, ...] = ()
    if sight is not None and water is not None:
        changes = tuple(_changes(boat, row, posture, (lookout, sight, water)))
    blind = None if sight is None else sight.blind
    return SightResult(
        id=row.id,
        stage=row.stage,
        posture=posture,
        blind_m=blind,
        blind_lengths=None if blind is None else blind / boat.hull.length,
        blind_over_hull_m=None if sight is None else sight.blind_over_hull,
        eye_above_water_m=None if water is None else float(water.height_above(eye[None])[0]),
        down_deg=None if sight is None else deg_of_rad(sight.down),
        over=under if sight is None else sight.over,
        eye_m=_point(eye),
        over_m=None if sight is None else _point(sight.over_at),
        water_m=None if sight is None or sight.water_at is None else _point(sight.water_at),
        why=_why(under, sight),
        changes=changes,
    )


def _why(under: str, sight: Sight | None) -> str:
    """Why she sees no water ahead; empty where she does."""
    if under:
        name = under.rsplit(".", 1)[-1].replace("-", " ")
        return (
            f"The eye is under the roof of {name}: what is seen through its windows is not "
            "calculated."
        )
    if sight is None:
        return NO_EYE
    return NO_WATER if sight.blind is None else ""


def _changes(
    boat: Boat, row: ConditionResult, posture: Posture, seen: tuple[Lookout, Sight, WaterPlane]
) -> Iterator[SightChange]:
    lookout, sight, water = seen
    wanted = [
        high
        for target in boat.document.targets.values()
        if (target.result, target.condition, target.boat)
        == (FIGURES[posture], row.id, row.stage)
        and 0.0 < (high := target.bounds()[1]) < np.inf
    ]
    distances = {"target": min(wanted)} if wanted else {}
    distances |= {f"{many}-lengths": many * boat.hull.length for many in LENGTHS}
    for name, distance in distances.items():
        change = lookout.change_for(distance, sight.over, water)
        if change is not None:
            yield SightChange(
                id=name,
                blind_m=distance,
                eye_higher_m=change.eye_higher,
                obstacle_lower_m=change.lower,
            )


def water_of(row: ConditionResult) -> WaterPlane | None:
    """The water at rest in the boat's frame; None where she does not lie upright in it."""
    if row.water_offset_m is None or row.upside_down or abs(row.heel_deg) > 60.0:
        return None
    up = up_vector(rad_of_deg(row.trim_deg), rad_of_deg(row.heel_deg))
    return WaterPlane(up, row.water_offset_m)


def _hidden(boats: tuple[PersonAboard, ...]) -> Iterator[HiddenSector]:
    for one in boats:
        for posture in POSTURES:
            eye = one.eye(posture)
            if eye is None or one.roof_over(eye):
                continue
            sectors = _sectors(_point(eye), one.hull, one.parts)
            for number, sector in enumerate(sectors, 1):
                yield HiddenSector(
                    id=str(number),
                    stage=one.stage,
                    posture=posture,
                    from_deg=sector.start,
                    to_deg=sector.end,
                    over=sector.over,
                )


def _point(place: FloatArray) -> tuple[float, float, float]:
    x, y, z = (float(c) for c in place)
    return (x, y, z)


@cached(8)
def _obstacles(hull: Hull, parts: tuple[BuiltPart, ...]) -> Obstacles:
    """Hull and plates of the parts."""
    steel = [(part.path, tuple(p.surface() for p in part.part.plates)) for part in parts]
    return Obstacles.of([(HULL, (hull.surface,)), *steel])


@cached(64)
def _lookout(
    eye: tuple[float, float, float], hull: Hull, parts: tuple[BuiltPart, ...]
) -> Lookout:
    return Lookout.ahead(np.array(eye), _obstacles(hull, parts), hull.surface)


@cached(32)
def _sectors(
    eye: tuple[float, float, float], hull: Hull, parts: tuple[BuiltPart, ...]
) -> tuple[Sector, ...]:
    return hidden_sectors(np.array(eye), _obstacles(hull, parts), HULL)
