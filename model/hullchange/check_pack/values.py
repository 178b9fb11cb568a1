"""Everything an engineer needs to check the answer by her own method, as values."""

from dataclasses import dataclass

from hullchange.answer.assessment import Assessment, ConditionAnswer
from hullchange.answer.weight_margin import WeightMarginResult
from hullchange.answer.wire import Stage
from hullchange.assess.assessment import assessment
from hullchange.boat.boat import Boat
from hullchange.boat.conditions import conditions_of
from hullchange.boat.entries import LedgerEntry
from hullchange.boat.variants import refit, with_changes
from hullchange.boat.weights import WeightSum, sum_of_weight
from hullchange.check_pack.hydrostatic_tables import (
    CrossCurves,
    Waterline,
    cross_curves_of,
    hydrostatic_tables,
)
from hullchange.check_pack.simpson import SimpsonSum, simpson_sum
from hullchange.check_pack.tank_tables import TankFill, WorstFill, tank_tables, worst_fills
from hullchange.check_pack.trade_ratios import Trade, trade
from hullchange.check_pack.weight_margin import weight_margin
from hullchange.check_pack.worst_cases import CrewHeel, crew_on_one_side, growth_margin
from hullchange.criteria.facts import Absent
from hullchange.errors import ModelError
from hullchange.survey.as_found import surveyed


@dataclass(frozen=True, eq=False)
class LedgerLine:
    """One line of the ledger.

    Attributes:
        belongs_to: as found, a change, or a condition.
        path: of the figure in the document.
        role: surveyed, removed, added, moved, part, allowance, load or sum.
        account: what it adds: mass [kg] and moments about the frame's origin [kg m].
        moved: [kg] that stays aboard and moves: it adds moments and no mass.
    """

    belongs_to: str
    path: str
    role: str
    account: WeightSum
    moved: float = 0.0


@dataclass(frozen=True, eq=False)
class CheckValues:
    """Every value of the check pack.

    Attributes:
        boat: everything built: lines and appendages are hers.
        answer: the assessment.
        waterlines: hydrostatics by boat.
        cross_curves: of the refit.
        tanks: tables by the tank's name.
        worst_fills: by condition, boat and tank.
        growth: conditions with the growth margin, heeled round.
        crew: heel with all persons to one side, or why there is none.
        allowed: the weight margin, or why there is none.
        trade: ratios, old and new.
        ledger: every line, and sums.
        simpson: the sum in the reference condition.
    """

    boat: Boat
    answer: Assessment
    waterlines: dict[Stage, tuple[Waterline, ...]]
    cross_curves: CrossCurves
    tanks: dict[str, tuple[TankFill, ...]]
    worst_fills: tuple[WorstFill, ...]
    growth: tuple[ConditionAnswer, ...]
    crew: tuple[CrewHeel, ...] | Absent
    allowed: WeightMarginResult | Absent
    trade: Trade
    ledger: tuple[LedgerLine, ...]
    simpson: SimpsonSum


def check_values(boat: Boat, option: str = "") -> CheckValues:
    """Everything for a check by another method.

    Args:
        boat: everything built.
        option: name of the option that was applied, for the heading.

    Raises:
        ModelError: where she does not float as asked.
    """
    return CheckValues(
        boat=boat,
        answer=assessment(boat, option=option),
        waterlines=hydrostatic_tables(boat),
        cross_curves=cross_curves_of(boat),
        tanks=tank_tables(boat),
        worst_fills=worst_fills(boat),
        growth=growth_margin(boat),
        crew=crew_on_one_side(boat),
        allowed=_allowed(boat),
        trade=trade(boat),
        ledger=ledger_of(boat),
        simpson=simpson_sum(boat),
    )


def ledger_of(boat: Boat) -> tuple[LedgerLine, ...]:
    """Every line of the ledger with its moments, and what it adds up to.

    The boat as found is what the survey's water weighed, all aboard; changes come on top of
    her, and the loads of each condition on top of both.  Sums of changes err by what their
    lines have in common too.
    """
    as_surveyed = surveyed(boat)
    as_found = WeightSum.of(as_surveyed.afloat.numbers, as_surveyed.covariance)
    lines = [LedgerLine("as found", "survey", "surveyed", as_found)]
    for name in boat.document.changes:
        done = with_changes(boat, (name,))
        lines += [_line_of(entry) for entry in done.entries]
        lines.append(LedgerLine(name, f"changes.{name}", "sum", done.account))
    whole = as_found + refit(boat).account
    lines.append(LedgerLine("refit", "survey and changes", "sum", whole))
    for condition in conditions_of(boat.document).values():
        lines += [
            LedgerLine(condition.id, load.path, "load", sum_of_weight(load))
            for load in condition.loads
        ]
        if condition.loads:
            path = f"conditions.{condition.id}.loads"
            lines.append(LedgerLine(condition.id, path, "sum", condition.load))
    return tuple(lines)


def _line_of(entry: LedgerEntry) -> LedgerLine:
    moved = entry.weight.mass if entry.role == "moved" else 0.0
    return LedgerLine(entry.change, entry.weight.path, entry.role, entry.account, moved)


def _allowed(boat: Boat) -> WeightMarginResult | Absent:
    try:
        return weight_margin(boat)
    except ModelError as error:
        return Absent(error.sentence)
