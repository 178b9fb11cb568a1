"""Where the sea comes in first, as lines below the table of the levers."""

from collections.abc import Iterable

from hullchange.answer.assessment import Assessment
from hullchange.answer.heeled import CriterionResult
from hullchange.plain_words import condition_in_words, in_condition

COLUMNS = (
    "  AVS: angle of vanishing stability. Range: up to AVS, or to the first opening into the "
    "hull that nothing closes, if that comes first. In use: boards out and hatches open. All "
    "open: all openings open. By area: openings in use of more than displacement in t / 1500 "
    "m² together (UK sailing code)."
)


def flooding_lines(answer: Assessment) -> Iterable[str]:
    """The refit in each condition, and what each rule takes in the reference condition."""
    yield COLUMNS
    refits = [c for c in answer.floats if c.stage == "refit"]
    yield from (
        f"  {condition_in_words(c.id)}: {c.flooding_sentence}"
        for c in refits
        if c.flooding_sentence
    )
    for c in refits:
        if c.id == answer.reference_condition and c.downflooding_by_rule:
            yield f"Downflooding by each rule, refit {in_condition(c.id)}"
            for rule in c.downflooding_by_rule:
                angle = (
                    "no opening that counts"
                    if rule.angle_deg is None
                    else f"{rule.angle_deg:.1f}°"
                )
                through = f" through {rule.opening}" if rule.opening else ""
                yield f"  {angle}{through}: {rule.openings} [{rule.source}]"


def floods_in_words(rule: CriterionResult) -> str:
    """The downflooding that a criterion took, where it asks for one."""
    if rule.downflooding_angle_deg is None:
        return "" if rule.downflooding_by is None else "; no opening that it counts goes under"
    return f"; floods at {rule.downflooding_angle_deg:.1f}° through {rule.downflooding_opening}"
