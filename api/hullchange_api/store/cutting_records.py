"""Records of cutting: nests of frozen revisions, and who did what to each piece of steel."""

from collections.abc import Iterable
from dataclasses import asdict, replace
from typing import cast
from uuid import uuid4

from sqlalchemy import select
from sqlalchemy.orm import Session

from hullchange.cutting.progress import ShopStep, StepRecord
from hullchange.errors import ModelError
from hullchange_api.store import tables
from hullchange_api.store.arrival import Arrival, next_arrival
from hullchange_api.store.database import Database
from hullchange_api.store.revisions import now

MOST_STEP_RECORDS = 50_000


class CuttingRecords:
    """The cutting records of every refit."""

    def __init__(self, database: Database) -> None:
        """Read nothing yet."""
        self._database = database

    def nests(self, refit: str, number: int, option: str) -> str | None:
        """The stored placements of a revision's option; None if there are none yet."""
        with self._database.reading() as session:
            row = session.get(tables.Nests, (refit, number, option))
            return None if row is None else row.placements

    def store_nests(self, refit: str, number: int, option: str, placements: str) -> bool:
        """Store placements if there are none yet; True if those stored are equal to them.

        The first placements stay, since sheets may already be cut to them.

        Raises:
            ModelError: ``not-saved``.
        """
        with self._database.writing() as session:
            stored = session.get(tables.Nests, (refit, number, option))
            if stored is not None:
                return stored.placements == placements
            session.add(
                tables.Nests(
                    refit=refit,
                    number=number,
                    option=option,
                    placements=placements,
                    made_at=now(),
                )
            )
            return True

    def step_records(self, refit: str) -> list[StepRecord]:
        """All records about a refit's pieces, in order of arrival."""
        with self._database.reading() as session:
            return [_step_record(row) for row in _rows(session, refit)]

    def add(self, refit: str, records: Iterable[StepRecord], through: str) -> int:
        """The number of records that are new, after storing them.

        Args:
            refit: its id.
            records: of steps of pieces, each at most once.
            through: channel, in words.

        Raises:
            ModelError: ``too-many``, ``not-saved``.
        """
        with self._database.writing() as session:
            rows = _rows(session, refit)
            last = {(row.piece, row.step): _step_record(row) for row in rows}
            fresh = [r for r in records if _is_new(r, last.get((r.piece, r.step)))]
            if len(rows) + len(fresh) > MOST_STEP_RECORDS:
                raise ModelError("too-many", "This refit has as many records as it may.")
            first = next_arrival(session, refit, through)
            session.add_all(
                _row(refit, record, replace(first, written_at=record.when, arrival=number))
                for number, record in enumerate(fresh, first.arrival)
            )
            return len(fresh)


def _rows(session: Session, refit: str) -> list[tables.ShopRecord]:
    kind = tables.ShopRecord
    order = select(kind).where(kind.refit == refit).order_by(kind.arrival, kind.id)
    return list(session.scalars(order))


def _is_new(record: StepRecord, last: StepRecord | None) -> bool:
    """Whether a record differs from the last one; a cell we wrote and read back does not."""
    if last is None:
        return record.done
    same = (record.done, record.shape) == (last.done, last.shape)
    return not same or (bool(record.note) and record.note != last.cell)


def _step_record(row: tables.ShopRecord) -> StepRecord:
    return StepRecord(
        row.piece,
        cast("ShopStep", row.step),
        row.done,
        row.shape,
        row.note,
        row.author,
        row.written_at,
    )


def _row(refit: str, record: StepRecord, arrival: Arrival) -> tables.ShopRecord:
    return tables.ShopRecord(
        id=str(uuid4()),
        refit=refit,
        piece=record.piece,
        step=record.step,
        done=record.done,
        shape=record.shape,
        note=record.note,
        author=record.who,
        **asdict(arrival),
    )
