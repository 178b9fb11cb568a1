"""How the figures of parts, plates, lines of the ledger and changes come about."""

from collections.abc import Iterator

from hullchange.answer.changes import ItemResult, PartResult, PlateResult
from hullchange.document import items
from hullchange.explain.entered import entry_at, tank_density
from hullchange.explain.record import (
    INTEGRATED,
    SUM,
    Basis,
    Derivation,
    ExplanationRequest,
    InputPath,
    Lister,
    Rules,
    constant,
    document_value,
)
from hullchange.explain.rules_hull import LINES
from hullchange.plain_words import id_in_words

DRAWN = Basis("drawn", "Calculated from the part's dimensions: flat outlines, exact.")
STEEL = constant("ρ", "steel_density")


def _part_of(asked: ExplanationRequest) -> PartResult:
    return next(part for part in asked.answer.parts if part.id == asked.names[0])


def _dimensions(asked: ExplanationRequest) -> Iterator[InputPath]:
    part = _part_of(asked)
    yield document_value("", f"changes.{part.change}.parts.{part.id}")


def _gauge(asked: ExplanationRequest) -> Iterator[InputPath]:
    """The dimensions of the part that are as thick as the plate; all of them if none is."""
    part, plate = _part_of(asked), asked.spot.owner
    assert isinstance(plate, PlateResult)
    path = f"changes.{part.change}.parts.{part.id}"
    entry = entry_at(asked.document, path)
    given = entry.value.model_dump() if entry is not None else {}  # type: ignore[attr-defined]
    same = [key for key, v in given.items() if key.endswith("_mm") and v == plate.thickness_mm]
    yield from (document_value("", f"{path}.{key}") for key in same or [])
    if not same:
        yield document_value("", path)


def _plates(figure: str, symbol: str) -> Lister:
    def listed(asked: ExplanationRequest) -> Iterator[InputPath]:
        for plate in _part_of(asked).plates:
            yield InputPath(symbol, f"parts.{asked.names[0]}.plates.{plate.id}.{figure}")

    return listed


PARTS: Rules = {
    "parts.*.mass_kg": Derivation(
        "steel of {0}",
        "Σ ρ V over the meshes of its plates and bars",
        (STEEL, _plates("mass_kg", "m")),
        INTEGRATED,
        note="The plates listed here, from their flat outlines, add up to it within 0.1 %.",
    ),
    "parts.*.mass_counted_kg": Derivation(
        "steel of {0} with weld metal and paint",
        "Σ m",
        (
            InputPath("m", "parts.{0}.mass_kg"),
            InputPath("m", "parts.{0}.weld_metal_kg"),
            InputPath("m", "parts.{0}.paint_kg"),
        ),
        SUM,
        note="The ledger counts all of it; the effects of the part leave it out.",
    ),
    "parts.*.volume_m3": Derivation(
        "volume of the steel of {0}", "m / ρ", (InputPath("m", "parts.{0}.mass_kg"), STEEL)
    ),
    "parts.*.plate_area_m2": Derivation(
        "plate area of {0}", "Σ A of its plates and bars", (_plates("area_m2", "A"),), SUM
    ),
    "parts.*.buoyant_volume_m3": Derivation(
        "buoyant volume of {0}",
        "closed volume it adds to the floating body, cut to the hull; negative: removes from "
        "it",
        (_dimensions, LINES),
        INTEGRATED,
    ),
    "parts.*.weld_metal_kg": Derivation(
        "weld metal of {0}",
        "m p / 100",
        (
            InputPath("m", "parts.{0}.mass_kg"),
            document_value("p", "allowances.weld_metal_percent"),
        ),
    ),
    "parts.*.paint_kg": Derivation(
        "paint of {0}",
        "A q",
        (
            InputPath("A", "parts.{0}.plate_area_m2"),
            document_value("q", "allowances.paint_kg_m2"),
        ),
    ),
    "parts.*.plates.*.thickness_mm": Derivation(
        "thickness of {1}", "as entered", (_gauge,), DRAWN
    ),
    "parts.*.plates.*.area_m2": Derivation(
        "area of {1}", "outline less its holes, at mid-thickness", (_dimensions,), DRAWN
    ),
    "parts.*.plates.*.mass_kg": Derivation(
        "mass of {1}",
        "ρ A s / 1000",
        (
            STEEL,
            InputPath("A", "parts.{0}.plates.{1}.area_m2"),
            InputPath("s", "parts.{0}.plates.{1}.thickness_mm"),
        ),
    ),
}
PARTS |= {
    f"parts.*.centroid_m.{axis}": Derivation(
        f"{axis} of the centre of {{0}}",
        f"Σ m {axis} / Σ m over the meshes of its plates and bars",
        (InputPath("m", "parts.{0}.mass_kg"), _dimensions),
        INTEGRATED,
    )
    for axis in "xyz"
}


def _item_of(asked: ExplanationRequest) -> ItemResult:
    return next(item for item in asked.answer.items if item.path == asked.names[0])


def _taken_off(asked: ExplanationRequest) -> str:
    """Path of what the survey had aboard, where a line takes that off."""
    entry = entry_at(asked.document, asked.names[0])
    value = entry.value if entry is not None else None
    return f"survey.aboard.{value.aboard}" if isinstance(value, items.TakenOff) else ""


def _item_mass(asked: ExplanationRequest) -> Derivation:
    item = _item_of(asked)
    name = f"mass of {id_in_words(item.path)}"
    if item.role == "part":
        return Derivation(
            name, "m of the part", (InputPath("m", f"parts.{plain_id(item.path)}.mass_kg"),)
        )
    if item.role == "allowance":
        part, what = item.path.rsplit(".", 2)[-2:]
        field = "weld_metal_kg" if what == "weld-metal" else "paint_kg"
        return Derivation(
            f"{name}, {part}", "m of the allowance", (InputPath("m", f"parts.{part}.{field}"),)
        )
    if _is_old_plate(item):
        return _old_plate(name, item)
    aboard = _taken_off(asked)
    kept = entry_at(asked.document, aboard) if aboard else None
    if kept is not None and isinstance(kept.value, items.FillAboard):
        tank = kept.value.tank
        density = tank_density(asked.document.tanks[tank], f"tanks.{tank}")
        fill = document_value("V", f"{aboard}.fill_l")
        return Derivation(name, "V ρ / 1000", (fill, lambda _: (density,)), SUM)
    path = aboard or item.path
    return Derivation(name, "m, as entered", (document_value("m", f"{path}.mass_kg"),))


def _is_old_plate(item: ItemResult) -> bool:
    """Whether a line is what a new plate of the hull takes the place of."""
    return item.role == "removed" and ".parts." in item.path


def _old_plate(name: str, item: ItemResult) -> Derivation:
    part = item.path.rsplit(".", 1)[0]

    def areas(asked: ExplanationRequest) -> Iterator[InputPath]:
        one = next(p for p in asked.answer.parts if p.id == plain_id(part))
        for plate in one.plates:
            yield InputPath("A", f"parts.{one.id}.plates.{plate.id}.area_m2")

    return Derivation(
        f"{name} of {plain_id(part)}",
        "ρ s Σ A / 1000",
        (STEEL, document_value("s", f"{part}.old_plate_mm"), areas),
    )


def plain_id(path: str) -> str:
    """The last step of a path, as it is written."""
    return path.rsplit(".", 1)[-1]


def _item_sd(asked: ExplanationRequest) -> Derivation:
    item = _item_of(asked)
    name = f"plus/minus of {id_in_words(item.path)}"
    formula = "as entered, or by the origin of the figure"
    note = (
        "By origin: weighed 1 %, drawn and catalogue 5 %, guessed 15 % of the mass; common "
        "practice, no source."
    )
    mass = InputPath("m", "items.{0}.mass_kg")
    return Derivation(name, formula, (mass,), note=note)


def _item_place(asked: ExplanationRequest) -> Derivation:
    """Where a line is: entered, or risen with what it rides on, or where the steel is."""
    item, axis = _item_of(asked), asked.spot.path.rsplit(".", 1)[-1]
    name = f"{axis} of {id_in_words(item.path)}"
    if item.role in ("part", "allowance") or _is_old_plate(item):
        part = item.path.rsplit(".parts.", 1)[-1].split(".", 1)[0]
        return Derivation(
            name, f"{axis} of the part", (InputPath(axis, f"parts.{part}.centroid_m.{axis}"),)
        )
    aboard = _taken_off(asked)
    kept = entry_at(asked.document, aboard or item.path)
    value = kept.value if kept is not None else None
    path = aboard or item.path
    if isinstance(value, items.FillAboard):
        return Derivation(
            name,
            "middle of the tank along and across, half the height of what lies in it",
            (
                document_value("", f"tanks.{value.tank}"),
                document_value("V", f"{aboard}.fill_l"),
            ),
            INTEGRATED,
        )
    goes = asked.spot.path.endswith(f".to_m.{axis}")
    if goes and isinstance(value, items.Moved) and value.to_m is not None:
        return Derivation(
            f"{name}, moved",
            f"{axis}, as entered",
            (document_value(axis, f"{path}.to_m.{axis}"),),
        )
    rises = getattr(value, "rises_with", None)
    place = document_value(axis, f"{path}.at_m.{axis}")
    lifted = axis == "z" and rises is not None and (goes or isinstance(value, items.Added))
    if not lifted or rises is None:
        return Derivation(name, f"{axis}, as entered", (place,))
    height = (
        document_value("h", rises.path),
        document_value("h₀", f"{path}.rises_with.from_m"),
    )
    return Derivation(f"{name}, risen", "z + h − h₀", (place, *height))


def _bound(asked: ExplanationRequest) -> Derivation:
    index = asked.spot.path.rsplit(".", 1)[-1]
    word = ("forward", "after")[int(index)]
    name = f"{word} end of the range for {id_in_words(asked.names[0])}"
    return Derivation(
        name,
        "x, as entered",
        (document_value("x", f"{asked.names[0]}.may_lie_m.x.{index}"),),
        unit="m",
    )


ITEMS: Rules = {
    "items.*.mass_kg": _item_mass,
    "items.*.plus_minus_kg": _item_sd,
    "items.*.may_lie_x_m.*": _bound,
}
ITEMS |= {
    f"items.*.{place}.{axis}": _item_place for place in ("at_m", "to_m") for axis in "xyz"
}


def _listed(*roles: str) -> Lister:
    def lines(asked: ExplanationRequest) -> Iterator[InputPath]:
        for item in asked.answer.items:
            if item.change == asked.names[0] and item.role in roles:
                yield InputPath("m", f"items.{item.path}.mass_kg")
        yield document_value("", "changes.{0}")

    return lines


def _gone(asked: ExplanationRequest) -> Iterator[InputPath]:
    """The lines that a change's new parts take the place of."""
    change = next(one.change for one in asked.answer.replaced if one.id == asked.names[0])
    for item in asked.answer.items:
        if item.change == change and item.replaced_by:
            yield InputPath("m", f"items.{item.path}.mass_kg")
    yield document_value("", f"changes.{change}")


def _every(figure: str) -> Lister:
    def changes(asked: ExplanationRequest) -> Iterator[InputPath]:
        yield from (
            InputPath("m", f"changes.{one.id}.{figure}") for one in asked.answer.changes
        )

    return changes


CHANGES: Rules = {
    "totals.added_kg": Derivation(
        "weight added by all changes", "Σ m", (_every("added_kg"),), SUM
    ),
    "totals.removed_kg": Derivation(
        "weight removed by all changes", "Σ m", (_every("removed_kg"),), SUM
    ),
    "totals.moved_kg": Derivation(
        "weight moved by all changes", "Σ m", (_every("moved_kg"),), SUM
    ),
    "totals.net_kg": Derivation(
        "net mass of all changes",
        "m on − m off",
        (InputPath("m on", "totals.added_kg"), InputPath("m off", "totals.removed_kg")),
        SUM,
    ),
    "changes.*.added_kg": Derivation(
        "weight added by {0}", "Σ m", (_listed("added", "part", "allowance"),), SUM
    ),
    "changes.*.removed_kg": Derivation(
        "weight removed by {0}", "Σ m", (_listed("removed"),), SUM
    ),
    "changes.*.moved_kg": Derivation("weight moved by {0}", "Σ m", (_listed("moved"),), SUM),
    "changes.*.net_kg": Derivation(
        "net mass of {0}",
        "m on − m off",
        (
            InputPath("m on", "changes.{0}.added_kg"),
            InputPath("m off", "changes.{0}.removed_kg"),
        ),
        SUM,
    ),
    "replaced.*.mass_kg": Derivation("steel of {0} that is removed", "Σ m", (_gone,), SUM),
}
