"""Verdicts in plain words: the figure, the limit, and how far its doubt reaches."""

from math import floor, log10

from hullchange.answer.heeled import CriterionResult
from hullchange.answer.targets import TargetResult
from hullchange.plain_words import id_in_words, unit_sign
from hullchange.unit_suffixes import without_unit

DECIMALS = {"mm": 0, "kg": 0}
FINEST = {
    **{"deg": 0.1, "m": 0.001, "mm": 1.0, "m2": 0.01, "m3": 0.01, "cm2": 1.0},
    **{"kg": 1.0, "s": 0.1, "m rad": 0.001, "m deg": 0.1},
}
"""What a figure of a criterion is shown to at most, by its unit; 0.01 of any other."""
ALIKE = 1e-6
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
    "vanishing_angle_without_house_deg": "Angle of vanishing stability without deckhouse",
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
    margin_words = f"{margin:+.1f}".replace("-", "−")
    return f"{words} (margin {margin_words} sd{_likely(judged)})"


def figures_in_words(rule: CriterionResult) -> str:
    """Value, plus/minus and limit: "110.5° ± 2.3°, at least 110° required"."""
    value = "-" if rule.value is None else _as_known(rule, rule.value)
    if rule.limit is None:
        return value
    limit = _trimmed(rounded(rule.limit, min(FINEST.get(rule.unit, 0.01), _step(rule))))
    return f"{value}, {rule.sense} {limit}{unit_sign(rule.unit)} required"


def _as_known(rule: CriterionResult, value: float) -> str:
    """A value as finely as it is known, finer where it would look like a limit it is not."""
    doubt, step, sign = rule.plus_minus or 0.0, _step(rule), unit_sign(rule.unit)
    beside = f" ± {rounded(doubt, step)}{sign}" if doubt >= step / 2.0 else ""
    return f"{rounded(value, step)}{sign}{beside}"


def _step(rule: CriterionResult) -> float:
    doubt, finest = rule.plus_minus or 0.0, FINEST.get(rule.unit, 0.01)
    step = max(step_for(doubt), finest)
    if rule.limit is None or rule.value is None or abs(rule.limit - rule.value) <= ALIKE:
        return step
    if abs(rule.limit - rule.value) < doubt:
        step = max(step_for(doubt / 10.0), finest)
    while step > ALIKE and rounded(rule.value, step) == rounded(rule.limit, step):
        step /= 10.0
    return step


def step_for(plus_minus: float) -> float:
    """The step [any unit] of one digit of a doubt, two where it begins with 1; 0 of none.

    >>> step_for(2.3), step_for(0.012), step_for(0.0)
    (1.0, 0.001, 0.0)
    """
    if plus_minus <= 0.0:
        return 0.0
    power = floor(log10(plus_minus))
    return float(10.0 ** (power - 1 if plus_minus / 10.0**power < 2.0 else power))


def rounded(value: float, step: float) -> str:
    """A value [any unit] in steps of a power of ten, thousands parted.

    >>> rounded(14452.7, 100.0), rounded(0.779967, 0.01)
    ('14,500', '0.78')
    """
    decimals = max(0, -round(log10(step)))
    return f"{round(value / step) * step if step > 1.0 else value:z,.{decimals}f}"


def _trimmed(text: str) -> str:
    return text.rstrip("0").rstrip(".") if "." in text else text


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


def _likely(judged: CriterionResult | TargetResult) -> str:
    likely = judged.probability
    if likely is None or abs(judged.margin_sd or 0.0) >= MENTIONED_SD:
        return ""
    return f", {_percent(likely)} % likely to be met"


def _percent(likely: float) -> str:
    """A probability in whole per cent, never as if it were certain."""
    if likely > 0.995:
        return "over 99"
    return "under 1" if likely < 0.005 else f"{100.0 * likely:.0f}"


MENTIONED_SD = 4.0
"""Beyond so many standard deviations a likelihood is as good as nought or certain."""
