"""What a boat weighs in a condition, line by line, and the moments of the lines."""

from collections.abc import Iterator

from hullchange.answer.assessment import ConditionResult, LoadedResult
from hullchange.answer.changes import ItemResult
from hullchange.document import items
from hullchange.document.document import Document
from hullchange.document.quantities import AXES
from hullchange.explain.entered import entry_at, tank_density
from hullchange.explain.record import (
    INTEGRATED,
    SUM,
    Derivation,
    ExplanationRequest,
    Ingredient,
    InputPath,
    Rules,
    document_value,
    same_float,
)
from hullchange.plain_words import id_in_words

SIGNS = {"removed": -1.0, "moved": 0.0}
"""With which sign the mass of a line of the ledger counts."""


def row_of(asked: ExplanationRequest) -> ConditionResult:
    """The boat in the condition that a figure belongs to."""
    return next(row for row in asked.answer.floats if (row.id, row.stage) == asked.names[:2])


def lines_of(asked: ExplanationRequest) -> Iterator[InputPath | Ingredient]:
    """The masses that add up to the displacement: what is loaded, and each change's own."""
    row = row_of(asked)
    for line in row.loaded:
        yield same_float("m", f"loaded.{line.path}.mass_kg")
    if row.stage == "refit":
        for change in asked.answer.changes:
            if change.net_kg:
                yield InputPath("m", f"changes.{change.id}.net_kg")


def moments_of(asked: ExplanationRequest, axis: str) -> Iterator[InputPath | Ingredient]:
    """Mass times place of every line, along one axis."""
    row, way = row_of(asked), AXES.index(axis)
    for line in row.loaded:
        path = f"conditions.{row.id}.{row.stage}.loaded.{line.path}.at_m.{axis}"
        yield _moment(line_name(line), (line.mass_kg, line.at_m[way]), axis, path)
    for item in asked.answer.items if row.stage == "refit" else ():
        arm, ends_at = _arm(item, way)
        path = f"items.{item.path}.{ends_at}.{axis}"
        mass = SIGNS.get(item.role, 1.0) * item.mass_kg or item.mass_kg
        yield _moment(_item_name(item), (mass, arm), axis, path)


def _moment(name: str, of: tuple[float, float], axis: str, path: str) -> Ingredient:
    mass, arm = of
    return Ingredient(
        symbol=f"m {axis}",
        name=name,
        value=mass * arm,
        unit="kg m",
        words=f"{mass:,.1f} kg × {arm:.3f} m".replace("-", "−"),
        path=path,
    )


def _arm(item: ItemResult, way: int) -> tuple[float, str]:
    if item.to_m is None:
        return item.at_m[way], "at_m"
    return item.to_m[way] - item.at_m[way], "to_m"


def _item_name(item: ItemResult) -> str:
    word = {"part": "new steel", "allowance": "allowance"}.get(item.role, item.role)
    return f"{id_in_words(item.path)}, {word}"


def line_name(line: LoadedResult) -> str:
    """A line of the condition in words."""
    name = id_in_words(line.path)
    if line.path == "survey":
        return "the boat as surveyed, all aboard"
    if line.path.startswith("survey."):
        return f"{name}, removed from what was surveyed"
    return name if line.mass_kg > 0.0 else f"{name}, out"


def _mass(asked: ExplanationRequest) -> Derivation:
    line = _line(asked)
    name = f"mass of {line_name(line)}"
    sign = "−" if line.mass_kg < 0.0 else ""
    if line.path == "survey":
        return Derivation(name, "as surveyed", (InputPath("Δ", "survey.displacement_kg"),))
    document, key = asked.document, line.path.rsplit(".", 1)[-1]
    if line.path.startswith("liquids.") and key not in document.tanks:
        return Derivation(
            name,
            "ρ V, with V up to its lowest spill point in the attitude reached",
            (same_float("ρ", "water_density_kg_m3"), _well(document, key)),
            INTEGRATED,
        )
    tank, fill = _fill(document, asked.names[0], line.path)
    if tank:
        density = tank_density(document.tanks[tank], f"tanks.{tank}")
        return Derivation(
            name, f"{sign}V ρ / 1000", (document_value("V", fill), lambda _: (density,)), SUM
        )
    return Derivation(
        name, f"{sign}m, as entered", (document_value("m", f"{line.path}.mass_kg"),)
    )


def _place(asked: ExplanationRequest) -> Derivation:
    line, axis = _line(asked), asked.spot.path.rsplit(".", 1)[-1]
    name = f"{axis} of {line_name(line)}"
    if line.path == "survey":
        return Derivation(
            name, "as surveyed", (InputPath(axis, f"survey.centre_of_gravity_m.{axis}"),)
        )
    document, key = asked.document, line.path.rsplit(".", 1)[-1]
    if line.path.startswith("liquids.") and key not in document.tanks:
        inputs: tuple[InputPath, ...] = (_well(document, key),)
    else:
        tank, fill = _fill(document, asked.names[0], line.path)
        if not tank:
            return Derivation(
                name,
                f"{axis}, as entered",
                (document_value(axis, f"{line.path}.at_m.{axis}"),),
            )
        inputs = (document_value("", f"tanks.{tank}"), document_value("V", fill))
    return Derivation(name, "centre of the liquid as it lies in its tank", inputs, INTEGRATED)


def _line(asked: ExplanationRequest) -> LoadedResult:
    line = asked.spot.owner
    assert isinstance(line, LoadedResult)
    return line


def _fill(document: Document, condition: str, path: str) -> tuple[str, str]:
    """The tank a line is the contents of, and where its fill is entered; empty for a weight."""
    key = path.rsplit(".", 1)[-1]
    held = {
        item.tank: f"survey.aboard.{name}.fill_l"
        for name, item in document.survey.aboard.items()
        if isinstance(item, items.FillAboard)
    }
    if path.startswith("survey.aboard."):
        item = document.survey.aboard[key]
        return (item.tank, held[item.tank]) if isinstance(item, items.FillAboard) else ("", "")
    if path.startswith("survey.liquids."):
        return key, held[key]
    if not path.startswith(("tanks.", "liquids.")):
        return "", ""
    given = f"conditions.{condition}.fills.{key}"
    return key, given if entry_at(document, given) else held.get(key, given)


def _well(document: Document, name: str) -> InputPath:
    """The cockpit that a condition floods."""
    new = [change for change, plan in document.changes.items() if name in plan.parts]
    path = f"changes.{new[0]}.parts.{name}" if new else f"existing.{name}"
    return document_value("", path)


LOADED: Rules = {
    "conditions.*.*.flooded.*.permeability": Derivation(
        "permeability of {2}",
        "as entered",
        (document_value("μ", "hull.compartments.{2}.permeability"),),
    ),
    "conditions.*.*.flooded.*.room_m3": Derivation(
        "compartment {2}",
        "the hull between its bulkheads",
        (document_value("", "hull.compartments.{2}"), document_value("", "hull.lines")),
        INTEGRATED,
    ),
    "conditions.*.*.flooded.*.water_m3": Derivation(
        "water in {2}",
        "μ V below the sea's level: buoyancy lost, no weight",
        (
            same_float("μ", "flooded.{2}.permeability"),
            same_float("V", "flooded.{2}.room_m3"),
        ),
        INTEGRATED,
    ),
    "conditions.*.*.loaded.*.mass_kg": _mass,
    "conditions.*.*.loaded.*.at_m.x": _place,
    "conditions.*.*.loaded.*.at_m.y": _place,
    "conditions.*.*.loaded.*.at_m.z": _place,
}
