"""How headroom and the line of sight from the helm come about."""

from collections.abc import Iterator
from math import isfinite

from hullchange.answer.person import HeadroomResult, SightResult
from hullchange.explain.record import (
    DEFINITION,
    SUM,
    Basis,
    Derivation,
    ExplanationRequest,
    Ingredient,
    InputPath,
    Rules,
    document_value,
)

DRAWN = Basis(
    "drawn",
    "The shape of hull and parts as modelled; rig, sails, crew and anything without a shape "
    "are left out.",
)
EYE = Basis(
    "common practice",
    "Eyes 0.11 m below the crown, and 52 % of the height from seat to crown: no source. "
    "ISO 11591:2019, quoted by a seller of standards, takes eyes 1.48 to 1.73 m over the floor "
    "and 0.69 to 0.84 m over the seat; the standard itself was not opened.",
)
PERSON, HEIGHT = document_value("", "person"), document_value("H", "person.height_m")
ROOM = "person.headroom.*.*"
SEEN = "person.sights.*.*.*"
HELM = "person.helms.*"


def _house(asked: ExplanationRequest) -> Iterator[InputPath]:
    """The house's own dimensions."""
    name = asked.names[0]
    places = [f"existing.{name}"] if name in asked.document.existing else []
    places += [
        f"changes.{change}.parts.{name}"
        for change, plan in asked.document.changes.items()
        if name in plan.parts
    ]
    for place in places:
        yield document_value("", place)


def _sole(asked: ExplanationRequest) -> Iterator[InputPath]:
    """The sole as entered; where it is assumed the lines it was assumed from."""
    person = asked.answer.person
    is_assumed = person is not None and person.sole_given == "assumed"
    yield document_value("", "hull.lines") if is_assumed else PERSON


def _least_at(asked: ExplanationRequest) -> Iterator[InputPath]:
    """The station at which headroom is least."""
    room = asked.spot.owner
    assert isinstance(room, HeadroomResult)
    aside = asked.spot.path.endswith("off_centre_m")
    key, least = (
        ("off_centre_m", room.least_off_centre_m) if aside else ("middle_m", room.least_m)
    )
    for number, station in enumerate(room.stations):
        if getattr(station, key) == least:
            yield InputPath("h", f"person.headroom.{{0}}.{{1}}.stations.{number}.{key}")
            return


def _least_of_all(asked: ExplanationRequest) -> Iterator[InputPath]:
    """Headroom in every house of the boat."""
    person = asked.answer.person
    for room in person.headroom if person else ():
        if room.stage == asked.names[1] and room.least_m is not None:
            yield InputPath("h", f"person.headroom.{room.id}.{room.stage}.least_m")


def _helm(asked: ExplanationRequest) -> Iterator[InputPath]:
    """Where she steers: as entered, or the cockpits it was assumed from."""
    person = asked.document.person
    if person is not None and person.helm is not None:
        yield document_value("", "person.helm")
    yield document_value("", "existing" if asked.names[0] == "as_found" else "changes")


def _water(asked: ExplanationRequest) -> Iterator[InputPath | Ingredient]:
    """The water she lies in, and her eyes over it."""
    condition, stage, posture = asked.names[:3]
    eye = "eye_z_m" if posture == "standing" else "seated_eye_z_m"
    yield InputPath("z", f"person.helms.{stage}.{eye}")
    yield InputPath("x", f"person.helms.{stage}.x_m")
    for symbol, key in (("o", "water_offset_m"), ("t", "trim_deg"), ("φ", "heel_deg")):
        yield InputPath(symbol, f"conditions.{condition}.{stage}.{key}")


def _over(asked: ExplanationRequest) -> Iterator[InputPath]:
    """What limits the line."""
    seen = asked.spot.owner
    place = asked.answer.person
    over = seen.over if isinstance(seen, SightResult) else ""
    if place is not None and not isinstance(seen, SightResult):
        names = asked.names[:3]
        over = next((s.over for s in place.sights if (s.id, s.stage, s.posture) == names), "")
    yield document_value("", "hull.lines" if over in ("hull", "") else over)


def _wanted(asked: ExplanationRequest) -> Iterator[InputPath]:
    """The targets, of a distance that a target asks."""
    if asked.names[3] == "target":
        for name, target in asked.document.targets.items():
            if target.condition == asked.names[0] and isfinite(target.bounds()[1]):
                yield document_value("", f"targets.{name}")
    else:
        yield InputPath("L", "hull.length_m")


def _point(name: str, key: str, formula: str) -> Rules:
    return {
        f"{SEEN}.{key}.*": Derivation(name, formula, (_water, _over), DRAWN, unit="m"),
    }


SIGHT = "person.sights.{0}.{1}.{2}"
PERSON_RULES: Rules = {
    "person.height_m": Derivation("height of the person", "as it is entered", (HEIGHT,)),
    "person.sole.*.x_m": Derivation("x of the cabin sole", "as it is entered", (_sole,)),
    "person.sole.*.z_m": Derivation(
        "height of the cabin sole",
        "as it is entered; else the lowest at which the hull is 600 mm wide under all houses, "
        "and 100 mm for the floors",
        (_sole,),
        Basis("common practice", "Where it is assumed: 600 mm and 100 mm have no source."),
    ),
    f"{ROOM}.stations.*.x_m": Derivation("station in {0}", "evenly along it", (_house,)),
    f"{ROOM}.stations.*.sole_z_m": Derivation("height of the sole there", "z(x)", (_sole,)),
    f"{ROOM}.stations.*.middle_m": Derivation(
        "headroom in {0} on the centreline",
        "underside of roof or front − sole; plate, beams, stiffeners and lining deducted",
        (_house, InputPath("z", "person.headroom.{0}.{1}.stations.{2}.sole_z_m"), PERSON),
        DRAWN,
    ),
    f"{ROOM}.stations.*.off_centre_m": Derivation(
        "headroom in {0} 300 mm off the centreline",
        "underside of roof, side or front − sole; plate, beams, stiffeners, lining deducted",
        (_house, InputPath("z", "person.headroom.{0}.{1}.stations.{2}.sole_z_m"), PERSON),
        DRAWN,
    ),
    f"{ROOM}.least_m": Derivation(
        "least headroom in {0}", "least of h under the roof", (_least_at,), DRAWN
    ),
    f"{ROOM}.least_off_centre_m": Derivation(
        "least headroom in {0} 300 mm off the centreline",
        "least of h under the roof",
        (_least_at,),
        DRAWN,
    ),
    f"{ROOM}.least_x_m": Derivation(
        "where headroom in {0} is least", "x of the least of h", (_house,), DRAWN
    ),
    f"{ROOM}.spare_m": Derivation(
        "headroom in {0} less the person's height",
        "h − H",
        (
            InputPath("h", "person.headroom.{0}.{1}.least_m"),
            InputPath("H", "person.height_m"),
        ),
        SUM,
    ),
    f"{ROOM}.low.*.from_x_m": Derivation(
        "where headroom in {0} begins to be short", "x at which h = H", (_house, HEIGHT), DRAWN
    ),
    f"{ROOM}.low.*.to_x_m": Derivation(
        "where headroom in {0} is enough again", "x at which h = H", (_house, HEIGHT), DRAWN
    ),
    f"{HELM}.x_m": Derivation(
        "x of the helm", "as entered; else 0.30 m before the foot well's after end", (_helm,)
    ),
    f"{HELM}.y_m": Derivation("y of the helm", "as entered; else the centreline", (_helm,)),
    f"{HELM}.floor_z_m": Derivation(
        "height of the floor at the helm",
        "as entered; else the top of the cockpit's sole or seat there, or the deck",
        (_helm,),
    ),
    f"{HELM}.seat_z_m": Derivation("height of the helm's seat", "as entered", (_helm,)),
    f"{HELM}.eye_z_m": Derivation(
        "eye height at the helm, standing",
        "z + H − 0.11",
        (InputPath("z", "person.helms.{0}.floor_z_m"), InputPath("H", "person.height_m")),
        EYE,
    ),
    f"{HELM}.seated_eye_z_m": Derivation(
        "eye height at the helm, seated",
        "z + 0.52 H − 0.11",
        (InputPath("z", "person.helms.{0}.seat_z_m"), InputPath("H", "person.height_m")),
        EYE,
    ),
    f"{SEEN}.blind_m": Derivation(
        "water hidden ahead of the bow",
        "h / tan β − distance of the foremost point of the hull; β down over the highest "
        "obstacle",
        (
            InputPath("h", f"{SIGHT}.eye_above_water_m"),
            InputPath("β", f"{SIGHT}.down_deg"),
            _over,
        ),
        DRAWN,
        note="No rule is judged by it: what is enough is for you to say, as a target.",
    ),
    f"{SEEN}.blind_over_hull_m": Derivation(
        "water hidden ahead by the bare hull",
        "as the water hidden ahead, with nothing on deck",
        (_water, document_value("", "hull.lines")),
        DRAWN,
    ),
    f"{SEEN}.blind_lengths": Derivation(
        "water hidden ahead in boat lengths",
        "d / L",
        (InputPath("d", f"{SIGHT}.blind_m"), InputPath("L", "hull.length_m")),
        DEFINITION,
        unit="",
    ),
    f"{SEEN}.eye_above_water_m": Derivation(
        "eye height above the water", "height over the water at rest", (_water,), DRAWN
    ),
    f"{SEEN}.down_deg": Derivation(
        "line of sight below level",
        "least of the angles down to all that stands ahead",
        (_water, _over),
        DRAWN,
    ),
    **_point("eye at the helm", "eye_m", "the helm and the eye over it"),
    **_point("highest point in the line of sight", "over_m", "the point of the steepest line"),
    **_point("where the line meets the water", "water_m", "the line meets the water"),
    f"{SEEN}.changes.*.blind_m": Derivation(
        "distance before the bow", "as the target asks, or n L", (_wanted,)
    ),
    f"{SEEN}.changes.*.eye_higher_m": Derivation(
        "eye higher, to see the water there",
        "the line from that water over the highest obstacle, at the eye, less its height",
        (_water, InputPath("d", f"{SIGHT}.changes.{{3}}.blind_m")),
        DRAWN,
    ),
    f"{SEEN}.changes.*.obstacle_lower_m": Derivation(
        "obstacle lower, to see the water there",
        "how far it stands above the line from the eye to that water",
        (_water, _over, InputPath("d", f"{SIGHT}.changes.{{3}}.blind_m")),
        DRAWN,
    ),
    "person.hidden.*.*.*.from_deg": Derivation(
        "begin of the hidden sector",
        "from ahead to starboard, by 1°: something other than the hull limits the view",
        (PERSON,),
        DRAWN,
    ),
    "person.hidden.*.*.*.to_deg": Derivation(
        "end of the hidden sector", "likewise", (PERSON,), DRAWN
    ),
    "conditions.*.*.headroom_least_m": Derivation(
        "least headroom", "least of h in all houses", (_least_of_all,), DRAWN
    ),
    "conditions.*.*.sight_blind_m": Derivation(
        "water hidden ahead of the bow",
        "the same figure",
        (InputPath("", "person.sights.{0}.{1}.standing.blind_m"),),
        DRAWN,
    ),
    "conditions.*.*.sight_blind_seated_m": Derivation(
        "water hidden ahead of the bow, seated",
        "the same figure",
        (InputPath("", "person.sights.{0}.{1}.seated.blind_m"),),
        DRAWN,
    ),
}
