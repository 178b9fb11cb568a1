"""The SQLite database in the data folder, migrated when it is opened.

Whatever is acknowledged is on disk: write-ahead log, every commit synchronised.
"""

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from threading import RLock
from typing import Any

from sqlalchemy import URL, Connection, Engine, create_engine, event
from sqlalchemy.exc import DBAPIError
from sqlalchemy.orm import Session

from hullchange.errors import ModelError
from hullchange_api.store.files import DATABASE, PRIVATE_FILE, keep_private, make_private

MIGRATIONS = Path(__file__).parent / "migrations"
BUSY_TIMEOUT_SECONDS = 20
PRAGMAS = ("journal_mode=WAL", "synchronous=FULL", "foreign_keys=ON")


class Database:
    """The database of a data folder, opened on first use."""

    def __init__(self, folder: Path) -> None:
        """Open and create nothing yet."""
        self.folder = folder
        self._lock = RLock()
        self._engine: Engine | None = None
        self._opened_as: tuple[int, int] = (0, 0)

    @property
    def exists(self) -> bool:
        """Whether anything was ever stored."""
        return (self.folder / DATABASE).is_file()

    @contextmanager
    def reading(self) -> Iterator[Session]:
        """A session that reads one consistent state.

        Raises:
            ModelError: ``not-saved``, ``newer-data``.
        """
        with (
            self._errors_as_refusals(),
            Session(self._opened(), expire_on_commit=False) as session,
        ):
            yield session

    @contextmanager
    def writing(self) -> Iterator[Session]:
        """A session whose writes are all on disk when it ends, or none are.

        Raises:
            ModelError: ``not-saved``, ``newer-data``; then nothing was changed.
        """
        with self._lock, self._errors_as_refusals():
            engine = self._opened().execution_options(writes=True)
            self._require_in_place()
            with Session(engine, expire_on_commit=False) as session, session.begin():
                yield session

    def require_in_place(self) -> None:
        """Refuse if the folder was moved or deleted since it was opened: writes would be lost.

        Raises:
            ModelError: ``not-saved``, ``newer-data``.
        """
        with self._errors_as_refusals():
            self._opened()
            self._require_in_place()

    def close(self) -> None:
        """Close the connections; the next session opens the database again."""
        with self._lock:
            if self._engine is not None:
                self._engine.dispose()
                self._engine = None

    def _opened(self) -> Engine:
        with self._lock:
            if self._engine is None:
                make_private(self.folder)
                file = self.folder / DATABASE
                file.touch(PRIVATE_FILE)  # SQLite gives its other files the same mode
                keep_private(self.folder)
                engine = engine_of(file)
                try:
                    _migrate(engine)
                except BaseException:
                    engine.dispose()
                    raise
                self._engine = engine
                self._opened_as = self._on_disk()
            return self._engine

    def _on_disk(self) -> tuple[int, int]:
        found = (self.folder / DATABASE).stat()
        return found.st_dev, found.st_ino

    def _require_in_place(self) -> None:
        try:
            is_same = self._on_disk() == self._opened_as
        except FileNotFoundError:
            is_same = False
        if not is_same:
            sentence = (
                f"The folder {self.folder.name} was moved, replaced or deleted while it was "
                "open; nothing was changed. Put it back, or stop hullchange and start it "
                "again."
            )
            raise ModelError("not-saved", sentence)

    @contextmanager
    def _errors_as_refusals(self) -> Iterator[None]:
        try:
            yield
        except (DBAPIError, OSError) as error:
            reason = error.orig if isinstance(error, DBAPIError) else error.strerror
            sentence = (
                f"The folder {self.folder.name} cannot be written ({reason}); nothing was "
                "changed. Free some space or allow writing, then try again."
            )
            raise ModelError("not-saved", sentence) from error


def engine_of(file: Path) -> Engine:
    """The engine of a database file; whatever a connection commits is on disk."""
    address = URL.create("sqlite", database=str(file))
    waits = {"timeout": BUSY_TIMEOUT_SECONDS}
    engine = create_engine(address, connect_args=waits, pool_size=20)

    @event.listens_for(engine, "connect")
    def set_up(connection: Any, record: object) -> None:  # noqa: ANN401, ARG001
        # transactions begin as set below, not when the driver decides
        connection.isolation_level = None
        for pragma in PRAGMAS:
            connection.execute(f"PRAGMA {pragma}")

    @event.listens_for(engine, "begin")
    def begin(connection: Connection) -> None:
        writes = connection.get_execution_options().get("writes", False)
        connection.exec_driver_sql("BEGIN IMMEDIATE" if writes else "BEGIN")

    return engine


def _migrate(engine: Engine) -> None:
    from alembic import command
    from alembic.config import Config
    from alembic.runtime.migration import MigrationContext
    from alembic.script import ScriptDirectory

    config = Config()
    config.set_main_option("script_location", str(MIGRATIONS).replace("%", "%%"))
    scripts = ScriptDirectory.from_config(config)
    with engine.connect() as connection:
        present = MigrationContext.configure(connection).get_current_revision()
    if present == scripts.get_current_head():
        return
    if present is not None and present not in {s.revision for s in scripts.walk_revisions()}:
        sentence = "This data folder was written by a newer hullchange: install that version."
        raise ModelError("newer-data", sentence)
    with engine.execution_options(writes=True).begin() as connection:
        config.attributes["connection"] = connection
        command.upgrade(config, "head")
