"""Verdicts in plain words: the figure, the limit, and how far its doubt reaches."""

from hullchange.answer.heeled import CriterionResult
from hullchange.answer.targets import TargetResult
from hullchange.plain_words import id_in_words, unit_sign
from hullchange.unit_suffixes import without_unit

DECIMALS = {"mm": 0, "kg": 0}
RESULTS = {
    "heel_deg": "List",
    "trim_mm": "Trim",
    "gm_m": "GM upright",
    "gm_at_rest_m": "GM at rest",
    "kg_per_cm": "Immersion",
    "vanishing_angle_deg": "Angle of vanishing stability",
    "headroom_least_m": "Least headroom",
    "sight_blind_m": "Water hidden ahead of the bow",
    "sight_blind_seated_m": "Water hidden ahead of the bow, seated",
    "vanishing_angle_without_house_deg": "Angle of vanishing stability without the house",
}
WAYS = {"trim_mm": (" by the stern", " by the bow"), "heel_deg": (" to starboard", " to port")}
"""Results whose sign is written as a word: stern or bow, port or starboard."""


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
        value += f" ± {_short(rule.plus_minus, 2)}{unit_sign(rule.unit)}"
    if rule.limit is None:
        return value
    return f"{value}, {rule.sense} {measured(rule.limit, rule.unit)} required"


def result_in_words(result: str) -> str:
    """A result that a target names, in the trade's words.

    >>> result_in_words("freeboards.aft.port_mm"), result_in_words("trim_mm")
    ('Freeboard aft, port', 'Trim')
    """
    if result.startswith("freeboards."):
        return "Freeboard " + ", ".join(map(id_in_words, result.split(".")[1:])).removesuffix(
            " mm"
        )
    return RESULTS.get(result) or id_in_words(without_unit(result) or result).capitalize()


def value_in_words(target: TargetResult) -> str:
    """The value of a target with its plus/minus: "112 mm ± 11 mm by the stern"."""
    if target.value is None:
        return "-"
    doubt = f" ± {_figure(target, target.plus_minus)}" if target.plus_minus else ""
    return f"{_figure(target, target.value)}{doubt}{_way(target, target.value)}"


def bounds_in_words(target: TargetResult) -> str:
    """What a target asks: "25 mm or less", "at least 1,060 mm", "between 2° and 5°"."""
    low, high, signed = target.at_least, target.at_most, target.result in WAYS
    if low is not None and high is not None:
        if signed and low == -high:
            return f"{high:g}{unit_sign(target.unit)} or less"
        return f"between {_bound(target, low)} and {_bound(target, high)}"
    bound = low if low is not None else high
    if bound is None:
        return "-"
    points_on = bound > 0.0 if low is not None else bound < 0.0
    at_least = points_on if signed else low is not None
    return f"{'at least' if at_least else 'at most'} {_bound(target, bound)}"


def _bound(target: TargetResult, bound: float) -> str:
    size = abs(bound) if target.result in WAYS else bound
    number = f"{size:,.0f}" if size >= 1000.0 and size == round(size) else f"{size:g}"
    return f"{number}{unit_sign(target.unit)}{_way(target, bound)}"


def _figure(target: TargetResult, value: float) -> str:
    size = abs(value) if target.result in WAYS else value
    return f"{size:,.{DECIMALS.get(target.unit, 2)}f}{unit_sign(target.unit)}"


def _way(target: TargetResult, value: float) -> str:
    """Which end or side a signed result points to; nothing of any other, or of 0."""
    plus, minus = WAYS.get(target.result, ("", ""))
    return "" if value == 0.0 else plus if value > 0.0 else minus


def measured(value: float, unit: str) -> str:
    """A figure with its unit's real sign."""
    return f"{_short(value, 4)}{unit_sign(unit)}"


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
