"""The history of one refit, kept in the database as it grows."""

import json
from concurrent.futures import Future, ThreadPoolExecutor
from typing import TypeAlias

from sqlalchemy import (
    ColumnElement,
    Connection,
    Table,
    and_,
    delete,
    insert,
    select,
    update,
)

from hullchange_api.store import tables
from hullchange_api.store.database import Database
from hullchange_api.store.history import History, Step

REFIT, STEP = (tables.Table.metadata.tables[name] for name in ("refits", "steps"))
Row: TypeAlias = dict[str, str | int | None]


class Journal:
    """Where a refit's history is kept; one thread writes, newest first."""

    def __init__(self, database: Database, refit: str, file: str = "") -> None:
        """Nothing is read yet.

        Args:
            database: of the data folder.
            refit: its id.
            file: absolute path of a document that is kept elsewhere.
        """
        self._database = database
        self._refit = refit
        self._file = file
        self._known: dict[int, Step] = {}
        self._writer = ThreadPoolExecutor(1, thread_name_prefix=f"journal-{refit}")

    def read(self) -> History | None:
        """The history that was kept, or None for a refit that was never opened.

        Raises:
            ModelError: ``not-saved``, ``newer-data``.
        """
        with self._database.reading() as session:
            row = session.get(tables.Refit, self._refit)
            if row is None:
                return None
            kept = session.scalars(
                select(tables.Step)
                .where(tables.Step.refit == self._refit)
                .order_by(tables.Step.place)
            ).all()
        steps = tuple(Step(json.loads(s.document), s.label, text=s.text) for s in kept)
        first = kept[0].place
        self._known = dict(enumerate(steps, first))
        at = row.place - first
        ours = (row.file_text, row.file_sha256, row.before_sha256)
        return History(row.edit, steps, first, at, *ours)

    def keep(self, history: History) -> "Future[None]":
        """Begin to keep a history; the answer is done when it is on the disk."""
        return self._writer.submit(self._write, history)

    def close(self) -> None:
        """End the writing thread when everything is written."""
        self._writer.shutdown()

    def _write(self, history: History) -> None:
        places = dict(enumerate(history.steps, history.first))
        fresh = {p: step for p, step in places.items() if self._known.get(p) is not step}
        with self._database.writing() as session:
            # statements, not objects, which take thrice as long: a dragged edit waits for this
            connection = session.connection()
            _put(connection, REFIT, {"id": self._refit}, self._row(history))
            for place, step in fresh.items():
                _put(connection, STEP, self._key(place), _step_row(step))
            for gone in self._known.keys() - places.keys():
                connection.execute(delete(STEP).where(_at(STEP, self._key(gone))))
        self._known = places

    def _key(self, place: int) -> Row:
        return {"refit": self._refit, "place": place}

    def _row(self, history: History) -> Row:
        return {
            "file": self._file,
            "edit": history.edit,
            "place": history.first + history.at,
            "file_text": history.file_text,
            "file_sha256": history.file_sha256,
            "before_sha256": history.before_sha256,
        }


def _step_row(step: Step) -> Row:
    return {"label": step.label, "document": json.dumps(step.plain), "text": step.text}


def _put(connection: Connection, table: Table, key: Row, row: Row) -> None:
    """Write a row over the one of the same key, or as a new one."""
    if not connection.execute(update(table).where(_at(table, key)).values(row)).rowcount:
        connection.execute(insert(table).values(**key, **row))


def _at(table: Table, key: Row) -> ColumnElement[bool]:
    return and_(*(table.c[name] == value for name, value in key.items()))
