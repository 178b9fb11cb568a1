"""The data folder is its owner's alone, whoever made it and whatever was there before."""

import os
from io import BytesIO

import pytest

from hullchange.start.invented import starting_document
from hullchange_api.command_line import main
from hullchange_api.serving import add_demo
from hullchange_api.store.files import keep_private, write_atomically
from hullchange_api.store.refits import Refits


@pytest.fixture(autouse=True)
def usual_umask():
    """Files come as most systems make them, readable by all."""
    before = os.umask(0o022)
    yield
    os.umask(before)


def open_to_others(folder):
    return {
        str(path.relative_to(folder.parent))
        for path in (folder, *folder.rglob("*"))
        if path.stat().st_mode & 0o077
    }


def test_everything_that_is_made_is_private(tmp_path):
    folder = tmp_path / "data"
    add_demo(folder)
    refits = Refits(folder)
    refits.begin("Dot")
    assert (folder / "hullchange.db-wal").exists()
    packed = BytesIO()
    refits.archive("dot", packed)
    refits.restore(packed, "copy")
    refits.working_copy("copy")
    assert open_to_others(folder) == set()
    refits.close()


def test_a_folder_of_an_older_version_is_shut_when_it_is_opened(tmp_path):
    folder = tmp_path / "data"
    refits = Refits(folder)
    refits.begin("Dot")
    refits.close()
    for path in (folder, *folder.rglob("*")):
        path.chmod(0o755 if path.is_dir() else 0o644)
    refits = Refits(folder)
    refits.working_copy("dot")
    assert open_to_others(folder) == set()
    refits.close()


def test_what_is_not_ours_stays_as_it_is_and_is_reported(tmp_path):
    folder = tmp_path / "boats"
    folder.mkdir()
    (folder / "run.sh").write_text("x")
    (folder / "run.sh").chmod(0o755)
    Refits(folder).begin("Dot")
    (folder / "dot" / "plan.csv").write_text("x")
    assert not keep_private(folder)
    assert open_to_others(folder) == {"boats", "boats/run.sh"}
    (folder / "run.sh").unlink()
    assert keep_private(folder)
    folder.chmod(0o1777)  # everybody's, such as /tmp
    assert not keep_private(folder)
    folder.chmod(0o700)


def test_a_new_file_is_as_private_as_its_folder(tmp_path):
    tmp_path.chmod(0o750)
    write_atomically(tmp_path / "a", b"x")
    assert (tmp_path / "a").stat().st_mode & 0o777 == 0o640
    tmp_path.chmod(0o700)


def test_an_archive_is_its_writers_alone(tmp_path):
    file, out = tmp_path / "dot.yaml", tmp_path / "dot.zip"
    file.write_text(starting_document("Dot"), encoding="utf-8")
    tmp_path.chmod(0o755)
    data = ["--data", str(tmp_path / "data")]
    assert main.main(["archive", str(file), "--out", str(out), *data]) == 0
    assert out.stat().st_mode & 0o777 == 0o600


def test_permission_bits_mean_nothing_on_windows(tmp_path, monkeypatch):
    monkeypatch.setattr("sys.platform", "win32")
    tmp_path.chmod(0o777)
    assert keep_private(tmp_path)
    tmp_path.chmod(0o700)
