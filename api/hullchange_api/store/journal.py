"""Storage of the undo history of one refit as it grows."""

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
from hullchange_api.store.history import History, UndoStep

REFIT, STEP = (tables.Table.metadata.tables[name] for name in ("refits", "steps"))
Values: TypeAlias = dict[str, str | int | None]


class Journal:
    """The stored history of a refit, written by one thread."""

    def __init__(self, database: Database, refit: str, file: str = "") -> None:
        """Read nothing yet.

        Args:
            database: of the data folder.
            refit: its id.
            file: absolute path of the document if it is not in the data folder.
        """
        self._database = database
        self._refit = refit
        self._file = file
        self._known: dict[int, UndoStep] = {}
        self._writer = ThreadPoolExecutor(1, thread_name_prefix=f"journal-{refit}")

    def read(self) -> History | None:
        """The stored history, or None for a refit that was never opened.

        Raises:
            ModelError: ``not-saved``, ``newer-data``.
        """
        with self._database.reading() as session:
            row = session.get(tables.Refit, self._refit)
            if row is None:
                return None
            stored = session.scalars(
                select(tables.Step)
                .where(tables.Step.refit == self._refit)
                .order_by(tables.Step.place)
            ).all()
        steps = tuple(UndoStep(json.loads(s.document), s.label, text=s.text) for s in stored)
        first = stored[0].place
        self._known = dict(enumerate(steps, first))
        at = row.place - first
        file = (row.file_text, row.file_sha256, row.before_sha256)
        return History(row.edit, steps, first, at, *file)

    def store(self, history: History) -> "Future[None]":
        """Start storing a history; the future is done when it is on disk."""
        return self._writer.submit(self._write, history)

    def close(self) -> None:
        """Finish storing, and end the thread."""
        self._writer.shutdown()

    def _write(self, history: History) -> None:
        places = dict(enumerate(history.steps, history.first))
        fresh = {p: step for p, step in places.items() if self._known.get(p) is not step}
        with self._database.writing() as session:
            # plain statements: ORM objects take three times as long, and a drag waits for this
            connection = session.connection()
            _put(connection, REFIT, {"id": self._refit}, self._values(history))
            for place, step in fresh.items():
                _put(connection, STEP, self._key(place), _step_values(step))
            for gone in self._known.keys() - places.keys():
                connection.execute(delete(STEP).where(_at(STEP, self._key(gone))))
        self._known = places

    def _key(self, place: int) -> Values:
        return {"refit": self._refit, "place": place}

    def _values(self, history: History) -> Values:
        return {
            "file": self._file,
            "edit": history.edit,
            "place": history.first + history.at,
            "file_text": history.file_text,
            "file_sha256": history.file_sha256,
            "before_sha256": history.before_sha256,
        }


def _step_values(step: UndoStep) -> Values:
    return {"label": step.label, "document": json.dumps(step.plain), "text": step.text}


def _put(connection: Connection, table: Table, key: Values, values: Values) -> None:
    """Update the row of a key, or insert one."""
    if not connection.execute(update(table).where(_at(table, key)).values(values)).rowcount:
        connection.execute(insert(table).values(**key, **values))


def _at(table: Table, key: Values) -> ColumnElement[bool]:
    return and_(*(table.c[name] == value for name, value in key.items()))
