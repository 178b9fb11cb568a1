"""Figures that do not go together: loads without a mass, tanks too full, places far off."""

from collections.abc import Iterator, Mapping

from pydantic import JsonValue

from hullchange.document.matching import PlainDocument, last_step, matches, numbers_at, words_at
from hullchange.document.quantities import AXES, FARTHEST_M, index_of
from hullchange.errors import Fault
from hullchange.hull.lines_check import KNUCKLE_REACH

SLACK = 1.01  # a box measured to the centimetre
LITRES = 1000.0

PLACES = (
    "weights.*.at_m",
    "survey.aboard.*.at_m",
    "tanks.*.at_m",
    "changes.*.removes.*.at_m",
    "changes.*.adds.*.at_m",
    "changes.*.moves.*.at_m",
    "changes.*.moves.*.to_m",
    "conditions.*.loads.*.at_m",
)


def plausibility_faults(document: Mapping[str, JsonValue]) -> Iterator[Fault]:
    """What cannot be meant when figures of different places are seen together."""
    plain = dict(document)
    for examine in (_loads, _fills, _capacities, _places, _line_points, _tapes):
        yield from examine(plain)


def _loads(plain: PlainDocument) -> Iterator[Fault]:
    """A load has mass and place, its own or those of the condition it is like."""
    for path, load in matches(plain, "conditions.*.loads.*"):
        _, condition, _, name = path.split(".", 3)
        given = {
            key
            for above in _chain(plain, condition)
            for found, _ in matches(plain, f"conditions.{above}.loads.{name}.*")
            for key in [last_step(found)]
        }
        for key in ("mass_kg", "at_m"):
            if isinstance(load, dict) and key not in given:
                sentence = f"{name} lacks {key}: give it here, or where this starts from."
                yield Fault("load-incomplete", path, sentence)


def _chain(plain: PlainDocument, condition: str) -> list[str]:
    chain: list[str] = []
    while condition not in chain:
        chain.append(condition)
        likes = [name for _, name in words_at(plain, f"conditions.{condition}.like")]
        condition = likes[0] if likes else condition
    return chain


def _fills(plain: PlainDocument) -> Iterator[Fault]:
    capacity = {
        path.split(".")[1]: litres for path, litres in numbers_at(plain, "tanks.*.capacity_l")
    }
    fills = [
        (path, last_step(path), v) for path, v in numbers_at(plain, "conditions.*.fills.*")
    ]
    for place, tank in words_at(plain, "survey.aboard.*.tank"):
        fill = place.removesuffix("tank") + "fill_l"
        fills += [(path, tank, litres) for path, litres in numbers_at(plain, fill)]
    for path, tank, litres in fills:
        if litres > capacity.get(tank, litres):
            sentence = (
                f"{litres:g} l do not fit into tank {tank}, which holds {capacity[tank]:g} l."
            )
            yield Fault("overfilled", path, sentence)


def _capacities(plain: PlainDocument) -> Iterator[Fault]:
    for path, litres in numbers_at(plain, "tanks.*.capacity_l"):
        tank = path.split(".")[1]
        box = [
            dict(numbers_at(plain, f"tanks.{tank}.box_m.{axis}.*")).values() for axis in "xyz"
        ]
        if any(len(side) != 2 for side in box):
            continue
        volume = LITRES
        for low, high in box:
            volume *= high - low
        if 0 < volume * SLACK < litres:
            sentence = f"{litres:g} l do not fit into a box of {volume:.0f} l: check box_m."
            yield Fault("overfilled", path, sentence)


def _places(plain: PlainDocument) -> Iterator[Fault]:
    """Half her length ahead of her, astern or beside her there is nothing of a boat."""
    length = next((v for _, v in numbers_at(plain, "hull.length_waterline_m")), 0.0)
    x = _first_numbers(plain, "hull.lines.*.points_m.*")
    if not x or length <= 0:
        return
    reach = dict(
        enumerate(
            (
                (min(x) - length / 2, max(x) + length / 2),
                (-length / 2, length / 2),
                (-length, 3 * length),
            )
        )
    )
    for pattern in PLACES:
        for path, value in numbers_at(plain, f"{pattern}.*"):
            index = index_of(last_step(path))
            low, high = reach.get(index, (value, value))
            if abs(value) <= FARTHEST_M and not low <= value <= high:
                axis = AXES[index]
                sentence = (
                    f"{axis} is {value:g} m, far from the boat: places are metres aft of the "
                    "forward perpendicular, to starboard and up."
                )
                yield Fault("far-away", f"{path.rsplit('.', 1)[0]}.{axis}", sentence)


def _first_numbers(plain: PlainDocument, pattern: str) -> list[float]:
    """The first number of each list that a pattern matches: the x of points."""
    points = [point for _, point in matches(plain, pattern)]
    return [p[0] for p in points if isinstance(p, list) and p and isinstance(p[0], int | float)]


def _line_points(plain: PlainDocument) -> Iterator[Fault]:
    """What was taped or read again is a point of its line."""
    for pattern in ("hull.taped.*.from", "hull.taped.*.to", "hull.read_again.*"):
        for path, x in numbers_at(plain, f"{pattern}.at_x_m"):
            line = dict(words_at(plain, f"{path.removesuffix('at_x_m')}line"))
            name = next(iter(line.values()), "")
            points = _first_numbers(plain, f"hull.lines.{name}.points_m.*")
            if points and min(abs(x - v) for v in points) > KNUCKLE_REACH:
                nearest = min(points, key=lambda v: abs(x - v))
                sentence = (
                    f"Line {name} has no point at x {x:g} m: the nearest is at {nearest:g} m. "
                    "Write the point's x as in the line."
                )
                yield Fault("no-point-there", path, sentence)


def _tapes(plain: PlainDocument) -> Iterator[Fault]:
    """A tape goes from one point to another."""
    for path, tape in matches(plain, "hull.taped.*"):
        ends = [tape.get(key) for key in ("from", "to")] if isinstance(tape, dict) else []
        known = [
            (end.get("line"), end.get("at_x_m"), end.get("side", "starboard"))
            for end in ends
            if isinstance(end, dict)
        ]
        if len(known) == len(ends) == 2 and known[0] == known[1]:
            sentence = (
                f"{last_step(path)} goes from a point to itself: name another point, or side: "
                "port for the whole breadth."
            )
            yield Fault("taped-to-itself", path, sentence)
