"""The order in which records arrive: a running number that no clock can upset."""

from dataclasses import dataclass

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from hullchange_api.store import tables
from hullchange_api.store.revisions import now

NUMBERED = (
    *(tables.Comment, tables.Remark, tables.Signature),
    *(tables.Attachment, tables.ShopWord),
)


@dataclass(frozen=True)
class Arrival:
    """How and when a record arrived.

    Attributes:
        through: by which way, in words.
        written_at: by its writer's clock; for what is written on the server's pages, by its.
        arrived_at: by the server's clock; empty in records of a version that did not keep it.
        arrival: its running number among all that arrived at the refit.
    """

    through: str
    written_at: str
    arrived_at: str
    arrival: int


def next_arrival(session: Session, refit: str, through: str, written_at: str = "") -> Arrival:
    """The arrival of a record now; ``written_at`` is empty if it is written now too."""
    last = (
        session.scalar(select(func.max(kind.arrival)).where(kind.refit == refit))
        for kind in NUMBERED
    )
    at = now()
    return Arrival(through, written_at or at, at, max((n or 0 for n in last), default=0) + 1)
