"""How the doubt of a verdict comes about: plus/minus, margin, likelihood, rise of VCG."""

from hullchange.answer.heeled import CriterionResult
from hullchange.answer.targets import TargetResult
from hullchange.explain.record import (
    DEFINITION,
    SOLVED,
    SPREAD,
    Derivation,
    ExplanationRequest,
    InputPath,
    Rules,
    document_value,
)
from hullchange.explain.rules_doubt import FORMULA, shares

JUDGES = (
    "The rule judges the best estimate, with the doubt beside it. It is clear from two "
    "standard deviations on (97.7 % likely)."
)


def _sibling(asked: ExplanationRequest, symbol: str, name: str) -> InputPath:
    return InputPath(symbol, f"{asked.spot.path.rsplit('.', 1)[0]}.{name}")


def _judged(asked: ExplanationRequest) -> tuple[str, str]:
    """Name and unit of what is judged."""
    owner = asked.spot.owner
    if isinstance(owner, TargetResult):
        return f"target {owner.id}", owner.unit
    assert isinstance(owner, CriterionResult)
    return owner.title, owner.unit


def _plus_minus(asked: ExplanationRequest) -> Derivation:
    name, unit = _judged(asked)
    of_row = asked.spot.pattern.startswith("conditions")
    inputs = (
        (shares,) if of_row else (document_value("", "survey"), document_value("", "changes"))
    )
    note = (
        "The rule is evaluated again with each figure it uses moved by one standard deviation."
    )
    return Derivation(f"plus/minus: {name}", FORMULA, inputs, SPREAD, note=note, unit=unit)


def _margin(asked: ExplanationRequest) -> Derivation:
    name, _ = _judged(asked)
    limits = ("limit", "at_least", "at_most")
    inputs = (
        _sibling(asked, "v", "value"),
        *(_sibling(asked, "l", limit) for limit in limits),
        _sibling(asked, "σ", "plus_minus"),
    )
    formula = "(v − l) / σ, positive on the good side of the nearest limit"
    return Derivation(f"margin: {name}", formula, inputs, DEFINITION, note=JUDGES, unit="sd")


def _probability(asked: ExplanationRequest) -> Derivation:
    name, _ = _judged(asked)
    inputs = (_sibling(asked, "z", "margin_sd"),)
    formula = "Φ(z) of the normal distribution; with two limits, what lies between them"
    return Derivation(f"likelihood: {name}", formula, inputs, DEFINITION, note=JUDGES, unit="")


def _rise(asked: ExplanationRequest) -> Derivation:
    name, _ = _judged(asked)
    inputs = (_sibling(asked, "v", "value"), _sibling(asked, "l", "limit"))
    formula = "solved for v = l, with every lever less by the rise times the sine of the heel"
    return Derivation(f"rise of VCG that uses up the margin: {name}", formula, inputs, SOLVED)


BY_LEVERS = "conditions.*.*.criteria.*"
CRITERION_DOUBT: Rules = {
    f"{owner}.{field}": rule
    for owner in (BY_LEVERS, "cockpits.*.*.criteria.*", "targets.*")
    for field, rule in {
        "plus_minus": _plus_minus,
        "margin_sd": _margin,
        "probability": _probability,
    }.items()
}
CRITERION_DOUBT[f"{BY_LEVERS}.vcg_rise_m"] = _rise
