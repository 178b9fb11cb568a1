"""The weight margin and the criterion that fails first; trade ratios before and after."""

from fastapi import APIRouter

from hullchange.answer.trade_ratios import TradeResult
from hullchange.answer.weight_margin import WeightMarginResult
from hullchange.check_pack.trade_ratios import trade_result
from hullchange.check_pack.weight_margin import weight_margin
from hullchange_api.routes.dependencies import CopiesDep, CopyDep, Option

router = APIRouter(prefix="/api/refits/{refit}/revisions/working", tags=["stability"])


@router.get("/allowance")
def read_weight_margin(
    copies: CopiesDep, copy: CopyDep, option: Option = None
) -> WeightMarginResult:
    """Limit lines of the working copy, its conditions as points, and the margin in words."""
    return weight_margin(copies.boat(copy, copy.state, option))


@router.get("/ratios")
def read_ratios(copies: CopiesDep, copy: CopyDep, option: Option = None) -> TradeResult:
    """Trade ratios of the boat as found and of the refit, for comparison only."""
    return trade_result(copies.boat(copy, copy.state, option))
