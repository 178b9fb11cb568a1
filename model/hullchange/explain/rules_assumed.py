"""How the count of the owner's own figures, and the cost of what is assumed, come about."""

from collections.abc import Iterator

from hullchange.explain.entered import entry_ingredient
from hullchange.explain.record import (
    SPREAD,
    SUM,
    Derivation,
    ExplanationRequest,
    Ingredient,
    InputPath,
    Rules,
    document_value,
)

COSTS = {
    "displacement_kg": "displacement",
    "trim_mm": "trim",
    "gm_m": "GM",
}
COUNTED = "numbers of hull, marks, height of G, existing parts, tanks and openings"
WHERE = ("hull.lines", "hull.deck", "hull.appendages", "survey.marks", "survey.vcg", "existing")


def _what(asked: ExplanationRequest) -> Iterator[Ingredient]:
    """The values that are assumed: those of the figure's own path, or of the next one."""
    own = asked.answer.own_figures
    following = "" if own is None or own.next is None else own.next.path
    path = asked.names[0] if asked.names else following
    given = entry_ingredient(asked.document, "", path)
    if given is not None:
        yield given


def _rules(place: str) -> Rules:
    return {
        f"{place}.figures": Derivation(
            "assumed figures", f"{COUNTED}, those that are assumed", (_what,), SUM, unit=""
        ),
        **{
            f"{place}.plus_minus.{field}": Derivation(
                f"plus/minus of {name} by what is assumed",
                "σ = √(J C Jᵀ), C of the assumed values alone; of the boat as surveyed",
                (_what,),
                SPREAD,
            )
            for field, name in COSTS.items()
        },
    }


ASSUMED: Rules = {
    "own_figures.all": Derivation(
        "figures of the present boat",
        COUNTED,
        tuple(document_value("", path) for path in WHERE),
        SUM,
        unit="",
    ),
    "own_figures.yours": Derivation(
        "figures that are the owner's",
        "all figures minus those assumed",
        (InputPath("", "own_figures.all"),),
        SUM,
        unit="",
    ),
    **_rules("assumed.*"),
    **_rules("own_figures.next"),
}
