"""In what order records came: a running number that no clock can turn round."""

from dataclasses import dataclass

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from hullchange_api.store import tables
from hullchange_api.store.revisions import now

ARRIVING = (
    *(tables.Comment, tables.Remark, tables.Signature),
    *(tables.Attachment, tables.ShopWord),
)


@dataclass(frozen=True)
class Came:
    """How a record came.

    Attributes:
        through: in words.
        written_at: by its writer's clock; what is written on the server's pages, by its own.
        arrived_at: by the server's clock; empty for a record of a version that did not say.
        arrival: its running number among all that came to the refit.
    """

    through: str
    written_at: str
    arrived_at: str
    arrival: int


def arriving(session: Session, refit: str, through: str, written_at: str = "") -> Came:
    """How a record comes that arrives now; ``written_at`` is empty where it is written now."""
    last = (
        session.scalar(select(func.max(kind.arrival)).where(kind.refit == refit))
        for kind in ARRIVING
    )
    at = now()
    return Came(through, written_at or at, at, max((n or 0 for n in last), default=0) + 1)
