"""What the shop keeps: nests of frozen revisions, and what was said of each piece of steel."""

from collections.abc import Iterable
from dataclasses import asdict, replace
from typing import cast
from uuid import uuid4

from sqlalchemy import select
from sqlalchemy.orm import Session

from hullchange.cutting.progress import ShopStep, Word
from hullchange.errors import ModelError
from hullchange_api.store import tables
from hullchange_api.store.arrival import Came, arriving
from hullchange_api.store.database import Database
from hullchange_api.store.revisions import now

MOST_WORDS = 50_000


class Shop:
    """The shop of every refit."""

    def __init__(self, database: Database) -> None:
        """Nothing is read yet."""
        self._database = database

    def nests(self, refit: str, number: int, option: str) -> str | None:
        """The placements kept for a revision's plan; None where there are none yet."""
        with self._database.reading() as session:
            row = session.get(tables.Nests, (refit, number, option))
            return None if row is None else row.placements

    def keep(self, refit: str, number: int, option: str, placements: str) -> bool:
        """Whether placements are now those kept; the first stay, for sheets carry them.

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

    def words(self, refit: str) -> list[Word]:
        """Everything that was said of a refit's pieces, in the order in which it came."""
        with self._database.reading() as session:
            return [_word(row) for row in _rows(session, refit)]

    def say(self, refit: str, words: Iterable[Word], through: str) -> int:
        """Take what is new in words, and answer how many that were.

        Args:
            refit: its id.
            words: on steps of pieces, each at most once.
            through: how they came.

        Raises:
            ModelError: ``too-many``, ``not-saved``.
        """
        with self._database.writing() as session:
            rows = _rows(session, refit)
            last = {(row.piece, row.step): _word(row) for row in rows}
            fresh = [w for w in words if _says_more(w, last.get((w.piece, w.step)))]
            if len(rows) + len(fresh) > MOST_WORDS:
                raise ModelError("too-many", "This refit holds as many records as it may.")
            first = arriving(session, refit, through)
            session.add_all(
                _row(refit, word, replace(first, written_at=word.when, arrival=number))
                for number, word in enumerate(fresh, first.arrival)
            )
            return len(fresh)


def _rows(session: Session, refit: str) -> list[tables.ShopWord]:
    kind = tables.ShopWord
    order = select(kind).where(kind.refit == refit).order_by(kind.arrival, kind.id)
    return list(session.scalars(order))


def _says_more(word: Word, last: Word | None) -> bool:
    """Whether a word is not what was said already; our own cell read back says nothing."""
    if last is None:
        return word.done
    same = (word.done, word.shape) == (last.done, last.shape)
    return not same or (bool(word.note) and word.note != last.cell)


def _word(row: tables.ShopWord) -> Word:
    return Word(
        row.piece,
        cast("ShopStep", row.step),
        row.done,
        row.shape,
        row.note,
        row.author,
        row.written_at,
    )


def _row(refit: str, word: Word, came: Came) -> tables.ShopWord:
    return tables.ShopWord(
        id=str(uuid4()),
        refit=refit,
        piece=word.piece,
        step=word.step,
        done=word.done,
        shape=word.shape,
        note=word.note,
        author=word.who,
        **asdict(came),
    )
