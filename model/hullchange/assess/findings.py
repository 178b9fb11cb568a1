"""What is found, and the one sentence a change easily makes one miss."""

from collections.abc import Iterable, Iterator, Sequence

import numpy as np

from hullchange.afloat.floats_in_conditions import FloatInCondition
from hullchange.answer.assessment import (
    ConditionAnswer,
    ConditionResult,
    RecordResult,
    UnansweredResult,
)
from hullchange.answer.cautions import COMMON_PRACTICE
from hullchange.answer.heeled import CockpitResult, CriterionResult
from hullchange.answer.verdicts import figures_in_words, verdict_in_words
from hullchange.answer.wire import Stage
from hullchange.assess.attitude import lying_findings
from hullchange.assess.upright import upright_findings
from hullchange.boat.boat import Boat
from hullchange.boat.built import BuiltPart
from hullchange.boat.conditions import LoadingCondition
from hullchange.boat.openings import edges_of
from hullchange.findings import Finding, Severity
from hullchange.floating.equilibrium import Equilibrium
from hullchange.plain_words import AS_SURVEYED, condition_in_words, id_in_words, in_condition
from hullchange.survey.as_found import ORIGINS, AsSurveyed

REFLOAT_SHARE = 0.02
WORTH_A_WORD = 5e-4  # [m]
REMEDIES = {
    "cfr178-drainage": "Fit larger drains or a smaller well.",
    "division240-standing-water": "Fit larger drains or a smaller well.",
    "division240-sill": "Raise the sill.",
}
"""What helps where a criterion of the cockpit is not met."""


def survey_findings(boat: Boat, as_surveyed: AsSurveyed) -> Iterator[Finding]:
    """What is doubtful about the survey."""
    fitted = as_surveyed.fitted
    if not fitted.agreement.startswith("the readings agree with"):
        worst = int(np.argmax(np.abs(fitted.residuals)))
        reading = as_surveyed.readings[worst]
        yield Finding(
            "freeboards-disagree",
            Severity.WARN,
            "survey.marks",
            f"Freeboards: {fitted.agreement}. The largest residual is "
            f"{1000.0 * fitted.residuals[worst]:+,.0f} mm at {reading.mark}, {reading.side}.",
            "chi-square test on the least-squares residuals",
        )
    vcg = boat.document.survey.vcg
    if vcg is not None:
        yield Finding(
            "vcg-typed",
            Severity.NOTE,
            "survey.vcg",
            f"The height of the centre of gravity ({vcg.z_m:+.2f} ± {vcg.plus_minus_m:.2f} m, "
            f"{ORIGINS.get(vcg.from_, vcg.from_)}) is typed in, not measured with this hull, "
            "and GM depends on it. Incline her, and keep the readings.",
            COMMON_PRACTICE,
        )


def float_findings(
    boat: Boat, rows: Sequence[FloatInCondition], answers: Sequence[ConditionResult]
) -> Iterator[Finding]:
    """What is bad about a float: unstable, listed, trimmed, something under water at rest.

    Args:
        boat: everything built.
        rows: the floats.
        answers: one for each.
    """
    for row, answer in zip(rows, answers, strict=True):
        boat_name = "boat as found" if row.stage == "as_found" else "refit"
        rest = row.rest
        yield from upright_findings(row, answer, boat_name)
        if rest.capsized:
            continue
        yield from lying_findings(boat, row, answer, boat_name)
        for name, edge in edges_of(boat.document, row.stage):
            height = float(rest.plane.height_above(edge).min())
            if height <= 0.0:
                yield Finding(
                    "opening-under-water",
                    Severity.FAIL,
                    f"openings.{name}",
                    f"Opening {id_in_words(name)} of the {boat_name} is "
                    f"{-1000.0 * height:.0f} mm under water at rest "
                    f"{in_condition(row.condition.id)}. Raise it, fit a closing, or take "
                    "weight off near it.",
                )


def unanswered_findings(
    answers: Iterable[ConditionAnswer],
) -> Iterator[Finding]:
    """Each boat that does not float in a condition, or cannot be followed as she heels."""
    for row in answers:
        boat_name = "boat as found" if row.stage == "as_found" else "refit"
        who = f"The {_afloat(boat_name, in_condition(row.id))}"
        place = f"conditions.{row.id}"
        if isinstance(row, UnansweredResult):
            sentence = f"{who} has no results. {row.unanswered}"
            yield Finding(row.code, Severity.FAIL, place, sentence)
        elif row.not_followed:
            sentence = (
                f"{who} has no righting levers, so no criterion is judged. {row.not_followed}"
            )
            yield Finding("levers-incomplete", Severity.FAIL, place, sentence)


def flooding_findings(boat: Boat, conditions: Iterable[LoadingCondition]) -> Iterator[Finding]:
    """What a condition wants flooded and cannot be: only a cockpit holds water so far."""
    built = {**boat.existing, **boat.parts}
    for condition in conditions:
        for name in condition.floods:
            if built[name].part.kind != "cockpit":
                yield Finding(
                    "floods-nothing",
                    Severity.WARN,
                    f"conditions.{condition.id}.floods",
                    f"{id_in_words(name).capitalize()} is not a cockpit, so it stays dry "
                    f"{in_condition(condition.id)}. Under floods name a cockpit.",
                )


def change_findings(rows: Sequence[FloatInCondition], reference: str) -> Iterator[Finding]:
    """Whether the refit calls for floating and inclining her again."""
    masses = {row.stage: row.rest.mass for row in rows if row.condition.id == reference}
    if len(masses) == 2:
        share = abs(masses["refit"] - masses["as_found"]) / masses["as_found"]
        if share > REFLOAT_SHARE:
            yield Finding(
                "refloat-and-incline",
                Severity.WARN,
                f"conditions.{reference}",
                f"The refit changes her weight by {100.0 * share:.1f} %: float her again, read "
                "the freeboards and incline her after the launch.",
                "IMO 2008 IS Code 7.1 (2 % of light displacement, opened in part)",
            )


def criteria_findings(
    answers: Sequence[ConditionResult], cockpits: Sequence[CockpitResult]
) -> Iterator[Finding]:
    """Each criterion that is known well enough and not met, or within its doubt.

    What is not met fails the refit; of the boat as found it is a warning, and of the refit's
    cockpit, whose rules were written for passenger vessels. What is within its doubt warns.
    Conditions in which a criterion is within its doubt are one finding, of the worst of them.
    """
    for (row, rule), *others in _alike(answers):
        severity = Severity.FAIL if row.stage == "refit" else Severity.WARN
        where = in_condition(row.id)
        also = ", ".join(condition_in_words(other.id) for other, _ in others)
        where += f" (worst; also in {also})" if also else ""
        yield from _judged(rule, severity, f"conditions.{row.id}", row.stage, where)
    for cockpit in cockpits:
        for rule in cockpit.criteria if cockpit.stage == "refit" else ():
            where = "with the well full"
            yield from _judged(rule, Severity.WARN, cockpit.id, cockpit.stage, where)


def _alike(
    answers: Sequence[ConditionResult],
) -> Iterator[list[tuple[ConditionResult, CriterionResult]]]:
    """Conditions of one boat that share a finding, the worst first; failures stand alone."""
    groups: dict[tuple[str, ...], list[tuple[ConditionResult, CriterionResult]]] = {}
    for row in answers:
        for rule in row.criteria:
            alone = (row.id,) if rule.state == "not_met" else ()
            key = (rule.id, row.stage, rule.state, *alone)
            groups.setdefault(key, []).append((row, rule))
    for group in groups.values():
        yield sorted(group, key=lambda one: one[1].margin_sd or 0.0)


def _judged(
    rule: CriterionResult, severity: Severity, place: str, stage: Stage, where: str
) -> Iterator[Finding]:
    """A criterion that is not met, or met or not within its doubt."""
    boat_name = "boat as found" if stage == "as_found" else "refit"
    sentence = f"{rule.title}: {figures_in_words(rule)}; {verdict_in_words(rule)}"
    if rule.state == "not_met":
        sentence = f"{sentence} by the {_afloat(boat_name, where)}. {_remedy(rule)}".rstrip()
        yield Finding("criterion-not-met", severity, place, sentence, rule.source)
    elif rule.state in ("met_within_doubt", "not_met_within_doubt"):
        sentence = f"{sentence}, {_afloat(boat_name, where)}."
        yield Finding("criterion-within-doubt", Severity.WARN, place, sentence, rule.source)


def _afloat(boat_name: str, where: str) -> str:
    """A boat in a condition: "refit in condition departure", "boat as surveyed"."""
    return f"{boat_name} {where}".replace(f"as found {AS_SURVEYED}", AS_SURVEYED)


def _remedy(rule: CriterionResult) -> str:
    """What helps where a criterion is not met; nothing where it is not known."""
    rise = rule.vcg_rise_m
    if rise is not None and rise < 0.0:
        return f"It is met with the centre of gravity {-1000.0 * rise:.0f} mm lower."
    return REMEDIES.get(rule.id, "")


def record_findings(record: RecordResult) -> Iterator[Finding]:
    """Where the CAD solids and the plates' own meshes disagree."""
    for part in record.parts:
        if part.differs:
            yield Finding(
                "record-differs",
                Severity.WARN,
                f"parts.{part.id}",
                f"The CAD solids of {id_in_words(part.id)} differ from its plates by "
                f"{part.mass_difference_percent:+.2f} % of mass and "
                f"{part.centroid_difference_mm:.1f} mm: trust neither until the cause is "
                "found.",
            )


def reminder_of(boat: Boat, name: str, rest: Equilibrium) -> str:
    """What is easily missed about a change, in one sentence, or nothing.

    Args:
        boat: everything built.
        name: of the change.
        rest: the refit afloat in the reference condition.
    """
    for remind in (_rises, _stays_dry, _floods, _replaces_nothing, _never_lightens, _may_lie):
        sentence = remind(boat, name, rest)
        if sentence:
            return sentence
    return ""


def _parts_of(boat: Boat, change: str, kind: str) -> list[BuiltPart]:
    return [p for p in boat.parts.values() if p.change == change and p.part.kind == kind]


def _rises(boat: Boat, change: str, rest: Equilibrium) -> str:  # noqa: ARG001
    risen = [e for e in boat.entries if e.change == change and e.role == "moved" and e.rides_on]
    rise = max((e.to[2] - e.weight.centre[2] for e in risen), key=abs, default=0.0)
    if abs(rise) < WORTH_A_WORD:
        return ""
    way = "rise" if rise > 0 else "come down"
    mass = sum(e.weight.mass for e in risen)
    return f"{mass:.0f} kg of rig and gear {way} {1000.0 * abs(rise):.0f} mm with the roof"


def _stays_dry(boat: Boat, change: str, rest: Equilibrium) -> str:
    bodies = [
        body.surface.vertices
        for part in _parts_of(boat, change, "transom_extension")
        for body in part.bodies
    ]
    lowest = min((float(rest.plane.height_above(v).min()) for v in bodies), default=0.0)
    if lowest <= 0.0:
        return ""
    return (
        f"bottom {1000.0 * lowest:.0f} mm above the water at rest: it adds weight, no buoyancy"
    )


def _floods(boat: Boat, change: str, rest: Equilibrium) -> str:
    litres = -1000.0 * sum(p.buoyant_volume for p in _parts_of(boat, change, "cockpit"))
    if litres <= 0.0:
        return ""
    water = litres / 1000.0 * rest.water_density
    return f"full to the deck, the cockpit holds {litres:,.0f} l of water, {water:,.0f} kg"


def _replaces_nothing(boat: Boat, change: str, rest: Equilibrium) -> str:  # noqa: ARG001
    entries = [e for e in boat.entries if e.change == change]
    if not boat.document.changes[change].parts or any(e.replaced_by for e in entries):
        return ""
    return "no removed steel is listed here: is there any?"


def _never_lightens(boat: Boat, change: str, rest: Equilibrium) -> str:  # noqa: ARG001
    if not any(added.energy_kwh for added in boat.document.changes[change].adds.values()):
        return ""
    return "batteries do not get lighter as fuel does: secure them against inversion"


def _may_lie(boat: Boat, change: str, rest: Equilibrium) -> str:  # noqa: ARG001
    for entry in boat.entries:
        low, high = entry.may_lie_x
        if entry.change == change and low < high:
            name = entry.weight.path.rsplit(".", 1)[1]
            return f"{id_in_words(name)} may be placed from {low:g} to {high:g} m aft of the FP"
    return ""
