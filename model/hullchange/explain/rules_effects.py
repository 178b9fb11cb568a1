"""How effects come about: differences of two floats, each at rest."""

from collections.abc import Iterator, Mapping

from hullchange.explain.record import (
    SOLVED,
    SUM,
    Derivation,
    ExplanationRequest,
    Ingredient,
    InputPath,
    Lister,
    Rules,
)

IN_REFERENCE = "conditions.{reference}.refit"
FIELDS = {
    "sinkage_mm": ("sinkage", "d", "sinkage_mm", "10 m / kg per cm"),
    "trim_mm": ("trim", "t", "trim_mm", "10 m (x − LCF) / MTC"),
    "heel_deg": ("heel", "φ", "heel_deg", "m y / (Δ GM), in radians"),
    "vcg_mm": ("VCG", "VCG", "centre_of_gravity_m.z", "1000 m (z − VCG) / Δ"),
    "gm_mm": ("GM upright", "GM", "gm_m", "the change of KM minus that of VCG"),
    "freeboard_aft_mm": ("freeboard aft", "f", "", "− sinkage − trim (x / L − ½)"),
}
BY_HAND = {
    "sinkage_mm": ("kg_per_cm",),
    "trim_mm": ("lcf_m", "trim_moment_kgm_per_cm"),
    "heel_deg": ("displacement_kg", "gm_m"),
    "vcg_mm": ("displacement_kg",),
    "gm_mm": ("displacement_kg", "centre_of_gravity_m.z"),
    "freeboard_aft_mm": ("kg_per_cm", "lcf_m", "trim_moment_kgm_per_cm"),
}
"""What a calculation by hand needs beside mass and place."""
OUT = {
    "parts.*.effect": ("{0}", "without {0}, with the steel it replaces put back", "parts.{0}"),
    "parts.*.effect_gross": ("{0}, gross", "without {0}, no old steel put back", "parts.{0}"),
    "replaced.*.effect": ("removing the steel of {0}", "with that steel left on", ""),
    "changes.*.effect": ("{0}", "without this change", ""),
    "items.*.effect": ("{0}", "without this entry", "items.{0}"),
}
"""What an effect is of, what the other float is, and whose mass and place it has."""


def _effect(prefix: str, field: str) -> Derivation:
    what, other, owner = OUT[prefix]
    name, symbol, path, hand = FIELDS[field]
    return Derivation(
        f"effect of {what} on {name}",
        f"{symbol} of the refit − {symbol} of the refit {other}, each solved at rest",
        (
            _of_refit(symbol, path),
            *_weight(owner),
            *LINES.get(prefix, ()),
            *(InputPath("", f"{IN_REFERENCE}.{figure}") for figure in BY_HAND[field]),
        ),
        SOLVED,
        note=f"Approximately, by hand, from the inputs here: {hand}. The figure also counts "
        "changes of volume, which this leaves out.",
    )


def _of_refit(symbol: str, path: str) -> InputPath | Lister:
    """The figure of the refit; of freeboards the mean at the aftermost mark."""
    return InputPath(symbol, f"{IN_REFERENCE}.{path}") if path else _freeboard_aft


def _freeboard_aft(asked: ExplanationRequest) -> Iterator[InputPath | Ingredient]:
    marks = asked.document.survey.marks
    aftmost = max(marks, key=lambda name: marks[name].x_m)
    yield InputPath("f", f"{IN_REFERENCE}.freeboards_at_marks.{aftmost}.mean_mm")


def _weight(owner: str) -> tuple[InputPath, ...]:
    if not owner:
        return ()
    of_part = owner.startswith("parts")
    place, mass = ("centroid_m", "mass_counted_kg") if of_part else ("at_m", "mass_kg")
    return (
        InputPath("m", f"{owner}.{mass}"),
        *(InputPath(axis, f"{owner}.{place}.{axis}") for axis in "xyz"),
    )


def _of_change(asked: ExplanationRequest) -> Iterator[InputPath | Ingredient]:
    for item in asked.answer.items:
        if item.change == asked.names[0]:
            yield InputPath("m", f"items.{item.path}.mass_kg")


LINES: Mapping[str, tuple[InputPath | Lister, ...]] = {
    "changes.*.effect": (_of_change,),
    "replaced.*.effect": (InputPath("m", "replaced.{0}.mass_kg"),),
}
"""What weighs something where that is not one line."""


def _steps(field: str) -> Lister:
    def listed(asked: ExplanationRequest) -> Iterator[InputPath]:
        for step in asked.answer.waterfall.steps:
            yield InputPath("e", f"waterfall.steps.{step.change}.effect.{field}")

    return listed


def _alone(field: str) -> Lister:
    def listed(asked: ExplanationRequest) -> Iterator[InputPath]:
        for change in asked.answer.changes:
            yield InputPath("e", f"changes.{change.id}.effect.{field}")

    return listed


def _waterfall(field: str) -> Rules:
    name, symbol, path, _ = FIELDS[field]
    return {
        f"waterfall.steps.*.effect.{field}": Derivation(
            f"step of {{0}} in {name}",
            f"{symbol} with this change and those before it − {symbol} with those before it, "
            "each solved at rest",
            (_of_change, _of_refit(symbol, path)),
            SOLVED,
        ),
        f"waterfall.total.{field}": Derivation(
            f"whole refit, {name}", "Σ e of the steps", (_steps(field),), SUM
        ),
        f"waterfall.leave_one_out_remainder.{field}": Derivation(
            f"remainder: whole refit minus the sum of separate effects, {name}",
            "total − Σ e, each change left out by itself",
            (InputPath("total", f"waterfall.total.{field}"), _alone(field)),
            SUM,
        ),
    }


EFFECTS: Rules = {
    f"{prefix}.{field}": _effect(prefix, field) for prefix in OUT for field in FIELDS
}
EFFECTS["waterfall.steps.*.displacement_kg"] = Derivation(
    "step of {0} in displacement", "m on − m off", (InputPath("m", "changes.{0}.net_kg"),), SUM
)
EFFECTS["waterfall.total_displacement_kg"] = Derivation(
    "whole refit, displacement",
    "m on − m off",
    (InputPath("m", "totals.net_kg"),),
    SUM,
)
for _field in FIELDS:
    EFFECTS |= _waterfall(_field)
