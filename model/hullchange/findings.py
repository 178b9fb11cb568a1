"""Findings: an answer exists and is bad or doubtful. Returned in the result, never raised."""

from dataclasses import dataclass
from enum import StrEnum


class Severity(StrEnum):
    """How bad a finding is, worst first."""

    FAIL = "fail"
    WARN = "warn"
    NOTE = "note"


class Grade(StrEnum):
    """How well a rule or number is known.

    A: text and published result agree. B: text seen. C: from memory or in conflict, never
    shown as met or not met.
    """

    A = "A"
    B = "B"
    C = "C"


@dataclass(frozen=True)
class Finding:
    """One sentence beside the thing it concerns.

    Attributes:
        code: stable, lower case with hyphens.
        severity: fail, warn or note.
        place: dotted path of the thing concerned.
        sentence: what it is, and what to do.
        source: where the rule comes from, or "common practice, no source".
    """

    code: str
    severity: Severity
    place: str
    sentence: str
    source: str = ""


def worst_first(findings: list[Finding]) -> tuple[Finding, ...]:
    """The findings without repeats, worst first, otherwise in the order they came."""
    order = list(Severity)
    return tuple(sorted(dict.fromkeys(findings), key=lambda f: order.index(f.severity)))
