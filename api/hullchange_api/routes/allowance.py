"""What the refit may still take and which criterion fails first; trade ratios, old and new."""

from fastapi import APIRouter

from hullchange.study.allowed import allowed
from hullchange.study.allowed_results import AllowedResult
from hullchange.study.trade import trade_result
from hullchange.study.trade_results import TradeResult
from hullchange_api.routes.desks import OneCopy, OneDesk
from hullchange_api.routes.working import Option

router = APIRouter(prefix="/api/refits/{refit}/revisions/working", tags=["stability"])


@router.get("/allowance")
def read_allowance(desk: OneDesk, copy: OneCopy, option: Option = None) -> AllowedResult:
    """Limit lines of the working copy, its conditions as dots, and room in words."""
    return allowed(desk.boat(copy, copy.state, option))


@router.get("/ratios")
def read_ratios(desk: OneDesk, copy: OneCopy, option: Option = None) -> TradeResult:
    """Trade ratios of the boat as found beside those of the refit: comparisons only."""
    return trade_result(desk.boat(copy, copy.state, option))
