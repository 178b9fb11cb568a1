"""How a target comes about, what would meet it by estimate, and what is usual to ask."""

from hullchange.answer.targets import TargetResult, UsualTarget
from hullchange.explain.record import (
    SUM,
    Basis,
    Derivation,
    ExplanationRequest,
    InputPath,
    Rules,
    document_value,
)

ESTIMATED = Basis(
    "estimated",
    "First order: small changes of one float. The move itself is floated exactly.",
)
PRACTICE = Basis("practice", "Common practice, no source.")
USUAL = {
    "trim_mm": ("either way, a quarter of a per cent of the waterline", ""),
    "heel_deg": ("half a degree either way: what people aboard begin to notice", ""),
}


def _target(asked: ExplanationRequest) -> Derivation:
    target = asked.spot.owner
    assert isinstance(target, TargetResult)
    boat = asked.document.targets[target.id].boat
    if not asked.spot.path.endswith(".value"):
        word = "at least" if asked.spot.path.endswith("least") else "at most"
        return Derivation(
            f"target {target.id}, {word}",
            "as entered",
            (document_value("", f"targets.{target.id}"),),
            unit=target.unit,
        )
    place = f"conditions.{target.condition}.{boat}.{target.result}"
    name = f"target {target.id}"
    if not target.result.startswith("freeboards."):
        return Derivation(
            name, "the result it names", (InputPath("", place),), unit=target.unit
        )
    _, mark, *side = target.result.split(".")
    sides = side or ["port", "starboard"]
    asks = tuple(
        InputPath(
            "f", f"conditions.{target.condition}.{boat}.freeboards.{mark}.{s}.freeboard_mm"
        )
        for s in sides
    )
    return Derivation(name, "mean of f", asks, unit=target.unit)


def _needed(asked: ExplanationRequest) -> Derivation:
    """What would have to move, or come off."""
    name = asked.names[0]
    target = next(t for t in asked.answer.targets if t.id == name)
    boat = f"conditions.{target.condition}.{target.stage}"
    by = {
        "trim_mm": ("M = Δt MTC", "trim_moment_kgm_per_cm"),
        "heel_deg": ("M = Δφ W GM", "displacement_kg"),
        "gm_m": ("M = ΔGM W", "displacement_kg"),
    }
    formula, figure = by.get(
        target.result,
        ("M = Δf L MTC / lever, lever: mark to centre of flotation", "trim_moment_kgm_per_cm"),
    )
    if asked.spot.path.endswith("mass_kg"):
        formula, figure = "m = Δf kg/cm", "kg_per_cm"
    return Derivation(
        f"weight to bring target {name} back",
        f"{formula}; to a tenth of what is missing inside the bound",
        (InputPath("", f"targets.{name}.value"), InputPath("", f"{boat}.{figure}")),
        ESTIMATED,
    )


def _move(asked: ExplanationRequest) -> Derivation:
    """A figure of a weight that may move."""
    name, item = asked.names[0], asked.names[1].rsplit(".", 1)[0]
    figure = asked.spot.path.rsplit(".", 1)[-1]
    target = next(t for t in asked.answer.targets if t.id == name)
    words = {
        "mass_kg": ("mass of the weight", "as the ledger has it", ""),
        "from_x_m": ("place of the weight", "as the ledger has it", "m"),
        "to_x_m": ("place it could go to", "as far as is needed, within its range", "m"),
        "value": (
            f"target {name} then",
            "value, and m (x₂ − x₁) by what one kg·m changes",
            target.unit,
        ),
    }
    title, formula, unit = words[figure]
    entered = (document_value("", item),)
    if figure in ("mass_kg", "from_x_m"):
        return Derivation(title, formula, entered, SUM, unit=unit)
    asks = (InputPath("", f"targets.{name}.value"), *entered)
    return Derivation(title, formula, asks, ESTIMATED, unit=unit)


def _usual(asked: ExplanationRequest) -> Derivation:
    usual = asked.spot.owner
    assert isinstance(usual, UsualTarget)
    known = ("as found, less half a per cent of the waterline", "as_found")
    words, stage = USUAL.get(usual.result, known)
    inputs: tuple[InputPath, ...] = (document_value("L", "hull.length_waterline_m"),)
    if stage:
        mark = usual.result.removeprefix("freeboards.")
        found = f"conditions.{usual.condition}.{stage}.freeboards_at_marks.{mark}.mean_mm"
        inputs = (InputPath("f", found), *inputs)
    return Derivation(f"usual bound of {usual.name}", words, inputs, PRACTICE, unit=usual.unit)


TARGETS: Rules = {
    **{f"targets.*.{figure}": _target for figure in ("value", "at_least", "at_most")},
    **{f"targets.*.way_out.{figure}": _needed for figure in ("moment_kgm", "mass_kg")},
    **{
        f"targets.*.way_out.moves.*.{figure}": _move
        for figure in ("mass_kg", "from_x_m", "to_x_m", "value")
    },
    **{f"usual_targets.*.*.{figure}": _usual for figure in ("at_least", "at_most")},
}
