"""Twenty writers on one refit: none lost, losers get 412; a disk that is full or read-only."""

import os
import resource
import shutil
import subprocess
import sys
from contextlib import closing
from uuid import uuid4

import pytest
from crowd import undone_labels, write_at_once
from server_process import MOTOR, Server

from hullchange.start.invented import starting_document

pytestmark = pytest.mark.slow
WRITERS = 20
COMMENT = {"on": {}, "kind": "question", "text": "Is this so?", "author": "A"}
# permission bits bind nobody who may override them
RIGHTS = "-dac_override,-dac_read_search"
BOUND = ["setpriv", "--bounding-set", RIGHTS, "--inh-caps", RIGHTS]


@pytest.fixture
def server(tmp_path):
    file = tmp_path / "dot.yaml"
    file.write_text(starting_document("Dot"), encoding="utf-8")
    with Server(file) as server:
        server.file = file
        yield server


def test_twenty_writers_lose_nothing(server):
    taken, _ = write_at_once(server, WRITERS, 0)
    assert taken == WRITERS
    labels = undone_labels(server, WRITERS + 1)
    assert len(labels) == len(set(labels)) == WRITERS


def test_a_full_disk_is_reported_and_loses_nothing(server):
    _, hard = resource.prlimit(server.process.pid, resource.RLIMIT_FSIZE)
    with closing(server.caller()) as caller:
        place, seen = f"{caller.refit}/comments", caller.seen()
        before = server.file.read_text(encoding="utf-8")
        resource.prlimit(server.process.pid, resource.RLIMIT_FSIZE, (0, hard))
        status, answer = caller.ask("POST", place, {"id": str(uuid4()), **COMMENT})
        assert (status, answer["code"]) == (507, "not-saved")
        status, answer = caller.edit(MOTOR, 55, seen)
        assert (status, answer["saved"]) == (200, False)
        assert "held in memory" in answer["trouble"]
        assert server.file.read_text(encoding="utf-8") == before
        resource.prlimit(server.process.pid, resource.RLIMIT_FSIZE, (hard, hard))
        status, answer = caller.edit(MOTOR, 56, answer["edit"])
        assert (status, answer["trouble"]) == (200, "")
        assert caller.ask("POST", place, {"id": str(uuid4()), **COMMENT})[0] == 200
    server.end()
    assert "mass_kg: 56" in server.file.read_text(encoding="utf-8")


def bound():
    """What a command begins with, so that permission bits bind it."""
    if os.geteuid() != 0:
        return []
    if not shutil.which(BOUND[0]):
        pytest.skip("permission bits do not bind here")
    return BOUND


def shut(folder):
    folder.chmod(0)
    return lambda: folder.chmod(0o755)


def take_away(folder):
    away = folder.rename(folder.with_name("away"))
    return lambda: away.rename(folder)


def put_another(folder):
    away = folder.rename(folder.with_name("away"))
    folder.mkdir()
    return lambda: (shutil.rmtree(folder), away.rename(folder))


def test_a_data_folder_that_goes_while_it_is_open_is_reported_and_loses_nothing(tmp_path):
    file = tmp_path / "dot.yaml"
    file.write_text(starting_document("Dot"), encoding="utf-8")
    with Server(file, under=bound()) as server, closing(server.caller()) as caller:
        place, seen = f"{caller.refit}/comments", caller.seen()
        for turn, harm in enumerate((shut, take_away, put_another), 1):
            healed = harm(tmp_path / "data")
            comment = {"id": str(uuid4()), **COMMENT}
            for path, body in ((place, comment), ("/api/refits", {"name": "Wren"})):
                status, answer = caller.ask("POST", path, body)
                assert (status, answer["code"]) == (507, "not-saved"), (harm, answer)
                assert "The folder data" in answer["detail"]
            status, answer = caller.edit(MOTOR, 50 + turn, seen)
            assert (status, answer["saved"]) == (200, False)
            assert "held in memory" in answer["trouble"]
            healed()
            assert caller.ask("POST", place, comment)[0] == 200
            status, answer = caller.edit(MOTOR, 60 + turn, answer["edit"])
            assert (status, answer["trouble"]) == (200, "")
            seen = answer["edit"]
        healed = shut(tmp_path)
        for path in (caller.working, "/api/refits"):
            status, answer = caller.ask("GET", path)
            assert (status, answer["code"]) == (422, "unreadable"), answer
        healed()
        assert undone_labels(server, 7) == [
            f"{MOTOR} {mass}" for mass in (63, 53, 62, 52, 61, 51)
        ]
        assert len(caller.ask("GET", f"{caller.refit}/review")[1]["comments"]) == 3
        assert server.end() == ""


def test_a_folder_that_is_shut_is_reported_and_nothing_is_changed(tmp_path):
    under = bound()
    file = tmp_path / "dot.yaml"
    file.write_text(starting_document("Dot"), encoding="utf-8")
    before = file.read_bytes()
    data = tmp_path / "data"
    data.mkdir()
    data.chmod(0o555)
    serve = [
        sys.executable,
        "-m",
        "hullchange_api",
        "serve",
        str(file),
        "--port",
        "0",
    ]
    finished = subprocess.run(
        [*under, *serve, "--data", str(data)], capture_output=True, text=True, timeout=60
    )
    assert finished.returncode == 2
    assert "The folder data cannot be written" in finished.stderr
    assert "allow writing" in finished.stderr
    assert "Traceback" not in finished.stderr
    assert file.read_bytes() == before
    assert list(data.iterdir()) == []
