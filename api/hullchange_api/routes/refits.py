"""The refits there are, and beginning a new one."""

from fastapi import APIRouter

from hullchange.study.wire import Wire
from hullchange_api.routes.desks import OneDesk
from hullchange_api.schemas import RefitCard

router = APIRouter(prefix="/api/refits", tags=["refits"])


class Beginning(Wire):
    """A new refit's name."""

    name: str


@router.get("")
def list_refits(desk: OneDesk) -> tuple[RefitCard, ...]:
    """All refits of this server."""
    return tuple(desk.card(refit) for refit in desk.shelf.ids())


@router.post("", status_code=201)
def begin_refit(beginning: Beginning, desk: OneDesk) -> RefitCard:
    """A new refit from the commented start."""
    return desk.card(desk.shelf.begin(beginning.name).refit)
