"""How every plus/minus comes about, and what each cause is worth of it."""

from collections.abc import Iterator

from hullchange.answer.uncertainty import PlusMinus, SharesResult
from hullchange.boat.variants import DATUM, PLATE, SCALE
from hullchange.explain.record import (
    CHOSEN,
    SPREAD,
    Derivation,
    ExplanationRequest,
    Ingredient,
    InputPath,
    Rules,
    both_boats,
    document_value,
    same_float,
)
from hullchange.explain.rules_loaded import row_of

NAMES = {
    "displacement_kg": "displacement",
    "lcg_m": "LCG",
    "tcg_m": "TCG",
    "vcg_m": "VCG",
    "sinkage_mm": "sinkage",
    "trim_mm": "trim",
    "heel_deg": "heel",
    "gm_m": "GM upright",
    "sinkage_bow_mm": "sinkage at the bow",
    "sinkage_stern_mm": "sinkage at the stern",
}
ENDS = {"sinkage_bow_mm": "−", "sinkage_stern_mm": "+"}
READ = ("sinkage_mm", "trim_mm", "heel_deg", *ENDS)
"""The share of the freeboards by themselves, whatever the hull."""
FORMULA = "σ² = J C Jᵀ: each cause's own error, times what one unit of it does to the figure"
SCALE_ERROR = document_value("σ", "allowances.scale_percent")
DATUM_ERROR = document_value("σ", "allowances.datum_mm")
OF_A_CHANGE = (
    "Errors shared by the refit and the boat as found cancel, except for the change of her "
    "stiffness; errors of what is changed count in full."
)


def _of_the_survey(asked: ExplanationRequest) -> Iterator[InputPath | Ingredient]:
    """The readings; the lines and the height typed or inclined for where she is heavy."""
    yield from (document_value("σ", "survey.plus_minus_m"), document_value("", "survey.marks"))
    if asked.spot.path.rsplit(".", 1)[-1] not in READ:
        typed = asked.document.survey.vcg is not None
        yield document_value("", "hull.lines")
        yield document_value("", "survey.vcg" if typed else "survey.inclining")


def shares(asked: ExplanationRequest) -> Iterator[InputPath | Ingredient]:
    """The shares of the causes in a result, or in the result it depends on."""
    field = asked.spot.path.rsplit(".", 1)[-1]
    wanted = field if field in SharesResult.model_fields else "displacement_kg"
    for share in getattr(row_of(asked).shares, wanted):
        yield same_float("share", f"shares.{wanted}.{share.cause}.share_percent")


def changed(asked: ExplanationRequest) -> Iterator[InputPath | Ingredient]:
    """The lines of the refit, whose errors a change carries in full, alone and together."""
    for item in asked.answer.items:
        yield InputPath("σ", f"items.{item.path}.plus_minus_kg")
    yield from (SCALE_ERROR, DATUM_ERROR)


def _share(asked: ExplanationRequest) -> Derivation:
    cause = asked.names[2]
    name = f"share of {cause.rsplit('.', 1)[-1].replace('-', ' ')}"
    formula = "100 σ² of this cause / σ² of all"
    return Derivation(name, formula, SHARED.get(cause, (document_value("", cause),)), SPREAD)


def _steel(asked: ExplanationRequest) -> Iterator[InputPath]:
    """All new plate, which is rolled to one tolerance."""
    for item in asked.answer.items:
        if item.role == "part":
            yield InputPath("σ", f"items.{item.path}.plus_minus_kg")


def _weighed(asked: ExplanationRequest) -> Iterator[InputPath]:
    """All that is read on one scale."""
    for item in asked.answer.items:
        if item.provenance == "weighed":
            yield InputPath("m", f"items.{item.path}.mass_kg")


def _net(asked: ExplanationRequest) -> Iterator[InputPath]:
    """The mass a shift of all places turns with: what each change gains."""
    for change in asked.answer.changes:
        yield InputPath("m", f"changes.{change.id}.net_kg")


SHARED = {
    PLATE: (_steel,),
    SCALE: (SCALE_ERROR, _weighed),
    DATUM: (DATUM_ERROR, _net),
}
CONDITION = "conditions.*.*"
DOUBT: Rules = {
    f"survey.plus_minus.{field}": Derivation(
        f"plus/minus of the survey's {NAMES[field]}", FORMULA, (_of_the_survey,), SPREAD
    )
    for field in PlusMinus.model_fields
}
DOUBT |= {
    f"{CONDITION}.plus_minus.{field}": Derivation(
        f"plus/minus of {NAMES[field]}", FORMULA, (shares,), SPREAD
    )
    for field in PlusMinus.model_fields
    if field not in ENDS
}
DOUBT |= {
    f"{CONDITION}.{of}plus_minus.{field}": Derivation(
        f"plus/minus of {words}{NAMES[field]}",
        f"σ² = a C aᵀ, a = (1, {sign}½) on sinkage and trim with their correlation",
        (
            same_float("σ", f"{of}plus_minus.sinkage_mm"),
            same_float("σ", f"{of}plus_minus.trim_mm"),
        ),
        SPREAD,
    )
    for field, sign in ENDS.items()
    for of, words in (("", ""), ("change.", "the change of "))
}
DOUBT |= {
    f"{CONDITION}.change.plus_minus.{field}": Derivation(
        f"plus/minus of the change of {NAMES[field]}",
        FORMULA,
        (changed,),
        SPREAD,
        note=OF_A_CHANGE,
    )
    for field in PlusMinus.model_fields
    if field not in ENDS
}
DOUBT |= {
    f"{CONDITION}.shares.{field}.*.share_percent": _share for field in SharesResult.model_fields
}
DOUBT |= {
    f"{CONDITION}.freeboards.*.*.plus_minus_mm": Derivation(
        "plus/minus of the freeboard at {2}, {3}",
        "σ² = a C aᵀ, a = (1, x / L − ½, y) on sinkage, trim and heel with their correlation",
        (same_float("σ", "plus_minus.sinkage_mm"), same_float("σ", "plus_minus.trim_mm"))
        + (
            same_float("σ", "plus_minus.heel_deg"),
            same_float("y", "freeboards.{2}.{3}.half_breadth_m"),
        ),
        SPREAD,
    ),
    f"{CONDITION}.change.freeboards.*.*.plus_minus_mm": Derivation(
        "plus/minus of the change of freeboard at {2}, {3}",
        "σ² = a C aᵀ, a = (1, x / L − ½, y) on the changes of sinkage, trim and heel",
        (
            same_float("σ", "change.plus_minus.sinkage_mm"),
            same_float("σ", "change.plus_minus.trim_mm"),
        )
        + (same_float("σ", "change.plus_minus.heel_deg"),),
        SPREAD,
        note=OF_A_CHANGE,
    ),
}
OFF_THE_LEVERS = {
    "vanishing_angle_deg": "angle of vanishing stability",
    "downflooding_angle_deg": "downflooding angle",
    "range_deg": "range",
    "greatest_gz_m": "maximum GZ",
}
DOUBT[f"{CONDITION}.heeled_plus_minus.vanishing_angle_without_house_deg"] = Derivation(
    "plus/minus of angle of vanishing stability without deckhouse buoyancy",
    FORMULA,
    (shares,),
    SPREAD,
)
DRAWN = {
    "gm_upright_m": "GM upright",
    "heel_deg": "heel at rest",
    "heel_either_side_deg": "heel at rest, to either side",
    "vanishing_angle_deg": "angle of vanishing stability",
    "range_deg": "range",
    "greatest_gz_m": "maximum GZ",
    "unstable_percent": "samples that do not stay upright",
    "capsized_percent": "samples that come to rest upside down",
}
FROM_DRAWS = "5 %, median and 95 % of the figure over all samples, in that order"
for _field, _name in OFF_THE_LEVERS.items():
    DOUBT |= {
        f"{CONDITION}.heeled_plus_minus.{_field}": Derivation(
            f"plus/minus of {_name}", FORMULA, (shares,), SPREAD
        ),
        f"{CONDITION}.change.heeled.{_field}": Derivation(
            f"change of {_name}",
            "e₂ − e₁: refit minus boat as found",
            both_boats("e", _field),
        ),
        f"{CONDITION}.change.heeled.plus_minus.{_field}": Derivation(
            f"plus/minus of the change of {_name}",
            FORMULA,
            (changed,),
            SPREAD,
            note=OF_A_CHANGE,
        ),
    }
for _field, _name in DRAWN.items():
    _end = "" if _field.endswith("percent") else ".*"
    DOUBT[f"{CONDITION}.sampled.{_field}{_end}"] = Derivation(
        f"{_name}, by sampling",
        FROM_DRAWS if _end else "100 × samples that do / all samples",
        (same_float("n", "sampled.draws"), shares),
        SPREAD,
    )
DOUBT[f"{CONDITION}.sampled.draws"] = Derivation(
    "number of samples", "number of sampled boats", (), CHOSEN
)
