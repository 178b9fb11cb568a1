"""The order in which records arrive: a running number, whatever the clocks say."""

from dataclasses import dataclass

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from hullchange_api.store import tables
from hullchange_api.store.revisions import now

NUMBERED = (
    *(tables.Comment, tables.Remark, tables.Signature),
    *(tables.Attachment, tables.ShopRecord),
)


@dataclass(frozen=True)
class Arrival:
    """How and when a record arrived.

    Attributes:
        through: channel, in words.
        written_at: by the writer's clock; by the server's for what is written on its pages.
        arrived_at: by the server's clock; empty if stored by a version that did not record it.
        arrival: running number among all records of the refit.
    """

    through: str
    written_at: str
    arrived_at: str
    arrival: int


def next_arrival(session: Session, refit: str, through: str, written_at: str = "") -> Arrival:
    """The arrival of a record now; ``written_at`` is empty if it is also written now."""
    last = (
        session.scalar(select(func.max(kind.arrival)).where(kind.refit == refit))
        for kind in NUMBERED
    )
    at = now()
    return Arrival(through, written_at or at, at, max((n or 0 for n in last), default=0) + 1)
