"""Verdicts in plain words: the figure, the limit, and how far its doubt reaches."""

from hullchange.answer.heeled import CriterionResult
from hullchange.answer.targets import TargetResult

SIGNS = {
    "deg": "°",
    "m2": " m²",
    "m3": " m³",
    "cm2": " cm²",
    "m rad": " m·rad",
    "": "",
}


def state_in_words(judged: CriterionResult | TargetResult) -> str:
    """Met, met within doubt and so on; revisions older than the doubt keep their words."""
    if judged.value is None and judged.state == "to_be_confirmed":
        return "not answered"
    return judged.state.replace("_", " ")


def verdict_in_words(judged: CriterionResult | TargetResult) -> str:
    """The state, with its margin where that is known: "met within doubt (0.2 sd, 59 %)"."""
    words, margin = state_in_words(judged), judged.margin_sd
    if margin is None:
        return words
    return f"{words} (margin {margin:+.1f} sd{_likely(judged)})"


def figures_in_words(rule: CriterionResult) -> str:
    """Value, plus/minus and limit: "110.5° ± 2.3°, at least 110° required"."""
    value = "-" if rule.value is None else measured(rule.value, rule.unit)
    if rule.plus_minus:
        value += f" ± {_short(rule.plus_minus, 2)}{sign(rule.unit)}"
    if rule.limit is None:
        return value
    return f"{value}, {rule.sense} {measured(rule.limit, rule.unit)} required"


def measured(value: float, unit: str) -> str:
    """A figure with its unit's real sign."""
    return f"{_short(value, 4)}{sign(unit)}"


def sign(unit: str) -> str:
    """What stands behind a figure: " kg", "°"."""
    return SIGNS.get(unit, f" {unit}")


def _likely(judged: CriterionResult | TargetResult) -> str:
    likely = judged.probability
    if likely is None or abs(judged.margin_sd or 0.0) >= MENTIONED_SD:
        return ""
    return f", {100.0 * likely:.0f} % likely to be kept"


MENTIONED_SD = 4.0
"""Beyond so many standard deviations a likelihood is as good as nought or certain."""


def _short(value: float, digits: int) -> str:
    text = f"{value:.{digits}g}"
    return f"{value:,.0f}" if "e" in text else text
