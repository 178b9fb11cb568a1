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

MOST_WORDS = 50_000


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
        """Store placements if they are the first, and answer whether they are those stored.

        The first placements stay, since sheets may be cut by them.

        Raises:
            ModelError: ``not-saved``.
        """
        with self._database.writing() as session:
            there = session.get(tables.Nests, (refit, number, option))
            if there is not None:
                return there.placements == placements
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

    def words(self, refit: str) -> list[StepRecord]:
        """All records about a refit's pieces, in order of arrival."""
        with self._database.reading() as session:
            return [_word(row) for row in _rows(session, refit)]

    def add(self, refit: str, words: Iterable[StepRecord], through: str) -> int:
        """Store records that are new, and answer how many there were.

        Args:
            refit: its id.
            words: about steps of pieces, each at most once.
            through: by which way they came.

        Raises:
            ModelError: ``too-many``, ``not-saved``.
        """
        with self._database.writing() as session:
            rows = _rows(session, refit)
            last = {(row.piece, row.step): _word(row) for row in rows}
            fresh = [w for w in words if _is_new(w, last.get((w.piece, w.step)))]
            if len(rows) + len(fresh) > MOST_WORDS:
                raise ModelError("too-many", "This refit holds as many records as it may.")
            first = next_arrival(session, refit, through)
            session.add_all(
                _row(refit, word, replace(first, written_at=word.when, arrival=number))
                for number, word in enumerate(fresh, first.arrival)
            )
            return len(fresh)


def _rows(session: Session, refit: str) -> list[tables.ShopWord]:
    kind = tables.ShopWord
    order = select(kind).where(kind.refit == refit).order_by(kind.arrival, kind.id)
    return list(session.scalars(order))


def _is_new(word: StepRecord, last: StepRecord | None) -> bool:
    """Whether a record differs from the last one; our own cell read back does not."""
    if last is None:
        return word.done
    same = (word.done, word.shape) == (last.done, last.shape)
    return not same or (bool(word.note) and word.note != last.cell)


def _word(row: tables.ShopWord) -> StepRecord:
    return StepRecord(
        row.piece,
        cast("ShopStep", row.step),
        row.done,
        row.shape,
        row.note,
        row.author,
        row.written_at,
    )


def _row(refit: str, word: StepRecord, arrival: Arrival) -> tables.ShopWord:
    return tables.ShopWord(
        id=str(uuid4()),
        refit=refit,
        piece=word.piece,
        step=word.step,
        done=word.done,
        shape=word.shape,
        note=word.note,
        author=word.who,
        **asdict(arrival),
    )
