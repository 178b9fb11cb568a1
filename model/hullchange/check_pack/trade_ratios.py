"""Trade ratios of the boat as found beside those of the refit: comparisons, not safety."""

from dataclasses import dataclass

from hullchange.afloat.at_rest import afloat_in_reference
from hullchange.afloat.stability import particulars
from hullchange.answer.trade_ratios import RatioResult, TradeResult
from hullchange.answer.wire import Stage
from hullchange.boat.boat import Boat
from hullchange.boat.conditions import conditions_of
from hullchange.boat.hull_hydrostatics import hull_result
from hullchange.boat.variants import as_found, refit
from hullchange.criteria.facts import Absent
from hullchange.criteria.ratios import Proportions, RatioChange, ratio_changes
from hullchange.survey.as_found import surveyed

BALLAST = "ballast"
"""Her ballast is the weights whose names say so."""


@dataclass(frozen=True)
class Trade:
    """Trade ratios, old and new.

    Attributes:
        condition: in which both float.
        ratios: old beside new.
        ballast_from: paths of the weights that were counted as ballast.
    """

    condition: str
    ratios: tuple[RatioChange, ...]
    ballast_from: tuple[str, ...]


def trade(boat: Boat) -> Trade:
    """The ratios in the reference condition.

    Raises:
        ModelError: where she does not float in it.
    """
    condition = boat.document.reference_condition
    old, new = (_proportions(boat, stage) for stage in ("as_found", "refit"))
    return Trade(condition, ratio_changes(old, new), tuple(sorted(_ballast(boat, "refit"))))


def trade_result(boat: Boat) -> TradeResult:
    """The same as it crosses the edge.

    Raises:
        ModelError: as `trade`.
    """
    found = trade(boat)
    return TradeResult(
        condition=found.condition,
        ratios=tuple(_ratio(change) for change in found.ratios),
        ballast_from=found.ballast_from,
    )


def _ratio(change: RatioChange) -> RatioResult:
    old, new = change.old, change.new
    absent = [one.value for one in (old, new) if isinstance(one.value, Absent)]
    return RatioResult(
        id=new.id,
        title=new.title,
        as_found=None if isinstance(old.value, Absent) else old.value,
        refit=None if isinstance(new.value, Absent) else new.value,
        without=absent[0].why if absent else "",
        formula=new.formula,
        made_in=new.units,
        usual=new.usual,
        grade=new.grade.value,
        seen=new.seen,
    )


def _proportions(boat: Boat, stage: Stage) -> Proportions:
    hull = hull_result(boat)
    about = particulars(boat, stage, (hull.beam_m, hull.beam_waterline_m))
    variant = as_found(boat) if stage == "as_found" else refit(boat)
    condition = conditions_of(boat.document)[boat.document.reference_condition]
    ballast = sum(_ballast(boat, stage).values())
    return Proportions(
        displacement=afloat_in_reference(boat, surveyed(boat), variant, condition).mass,
        waterline_length=about.waterline_length,
        hull_length=about.hull_length,
        beam=about.hull_beam,
        sails=about.sails,
        ballast=ballast
        if ballast > 0.0
        else Absent("No entry under weights is named ballast."),
    )


def _ballast(boat: Boat, stage: Stage) -> dict[str, float]:
    """[kg] of ballast by path; what the refit takes off is negative."""
    listed = {
        f"weights.{name}": weight.mass_kg
        for name, weight in boat.document.weights.items()
        if BALLAST in name
    }
    if stage == "as_found":
        return listed
    return listed | {
        entry.weight.path: entry.account.mass
        for entry in boat.entries
        if BALLAST in entry.weight.path.rsplit(".", 1)[-1]
    }
