"""The store's database: migrated to what the tables say, synchronised, refusals in words."""

import pytest
from alembic import command
from alembic.autogenerate import compare_metadata
from alembic.config import Config
from alembic.runtime.migration import MigrationContext
from sqlalchemy import select, text

from hullchange.errors import ModelError
from hullchange_api.store import database
from hullchange_api.store.database import Database
from hullchange_api.store.tables import Comment, Refit, Table


@pytest.fixture
def store(tmp_path):
    store = Database(tmp_path / "50 % data")
    yield store
    store.close()


def refit(name):
    texts = dict.fromkeys(("file", "file_text", "file_sha256", "before_sha256"), "")
    return Refit(id=name, edit=1, place=0, **texts)


def test_the_migrations_make_what_the_tables_say(store):
    with store.reading() as session:
        context = MigrationContext.configure(session.connection())
        assert compare_metadata(context, Table.metadata) == []


def test_what_is_acknowledged_is_on_the_disk(store):
    with store.writing() as session:
        settings = {p: session.execute(text(f"PRAGMA {p}")).scalar() for p in PRAGMAS}
    assert settings == {"journal_mode": "wal", "synchronous": FULL, "foreign_keys": 1}


PRAGMAS = ("journal_mode", "synchronous", "foreign_keys")
FULL = 2


def broken_off(store):
    with store.writing() as session:
        session.add(refit("dot"))
        session.flush()
        raise ZeroDivisionError


def test_a_write_that_fails_changes_nothing(store):
    with pytest.raises(ZeroDivisionError):
        broken_off(store)
    with store.reading() as session:
        assert session.scalars(select(Refit)).all() == []


def test_it_is_opened_again_with_what_was_written(store):
    with store.writing() as session:
        session.add(refit("dot"))
    store.close()
    with store.reading() as session:
        assert [r.id for r in session.scalars(select(Refit))] == ["dot"]


def test_the_folder_of_a_newer_version_is_left_alone(store):
    with store.writing() as session:
        session.execute(text("UPDATE alembic_version SET version_num = 'm9999'"))
    store.close()
    with pytest.raises(ModelError) as refused, store.reading():
        pass
    assert refused.value.code == "newer-data"


def test_a_folder_that_cannot_be_made_is_reported(tmp_path):
    (tmp_path / "file").write_text("no folder")
    with pytest.raises(ModelError) as refused, Database(tmp_path / "file" / "data").reading():
        pass
    assert refused.value.code == "not-saved"
    assert "Free some space or allow writing" in refused.value.sentence


def write_much(store):
    with store.writing() as session:
        session.execute(text("PRAGMA max_page_count = 1"))
        session.execute(text("UPDATE refits SET file_text = :text"), {"text": "x" * 5_000_000})


def test_a_full_disk_is_reported_and_nothing_changed(store):
    with store.writing() as session:
        session.add(refit("dot"))
    with pytest.raises(ModelError) as refused:
        write_much(store)
    assert refused.value.code == "not-saved"
    assert "full" in refused.value.sentence
    with store.reading() as session:
        assert session.scalars(select(Refit.file_text)).all() == [""]


def test_nothing_is_made_until_it_is_asked_for(tmp_path):
    store = Database(tmp_path / "data")
    assert not store.exists
    assert not (tmp_path / "data").exists()


def test_records_of_an_older_folder_are_kept_under_their_new_key(store):
    with store.writing() as session:
        session.add(refit("dot"))
        session.flush()
        session.add(comment("dot"))
    with store.writing() as session:
        config = Config()
        config.set_main_option("script_location", str(database.MIGRATIONS).replace("%", "%%"))
        config.attributes["connection"] = session.connection()
        command.downgrade(config, "m0001")
    store.close()
    with store.writing() as session:
        [kept] = session.scalars(select(Comment))
        assert (kept.refit, kept.id, kept.text, kept.gate) == ("dot", "c", "Is this so?", None)
        session.add(refit("copy"))
        session.flush()
        session.add(comment("copy"))
    with store.reading() as session:
        context = MigrationContext.configure(session.connection())
        assert compare_metadata(context, Table.metadata) == []


def test_records_of_an_older_folder_are_in_the_order_in_which_they_were_kept(store):
    with store.writing() as session:
        session.add(refit("dot"))
        session.flush()
        for number, (id, clock) in enumerate((("z", "3"), ("a", "1"), ("m", "2"))):
            session.add(comment("dot", id, arrival=number, written_at=clock))
            session.flush()
        config = Config()
        config.set_main_option("script_location", str(database.MIGRATIONS).replace("%", "%%"))
        config.attributes["connection"] = session.connection()
        command.downgrade(config, "m0004")
    store.close()
    with store.reading() as session:
        kept = session.scalars(select(Comment).order_by(Comment.arrival)).all()
        assert [(row.id, row.arrived_at) for row in kept] == [("z", ""), ("a", ""), ("m", "")]


def comment(refit, id="c", **more):
    texts = dict.fromkeys(("kind", "author", "through", "written_at", "arrived_at"), "x")
    about = {"refit": refit, "id": id, "on": "{}", "text": "Is this so?", "arrival": 1}
    return Comment(**about | texts | more)
