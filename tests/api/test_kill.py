"""Cut off by SIGKILL while it writes: nothing that was acknowledged is lost."""

import json
import subprocess
import sys
from pathlib import Path

import pytest
from killed_server import killed

from hullchange_api.store.files import remove_unfinished

SUPPORT = Path(__file__).parents[1] / "support"
pytestmark = pytest.mark.slow


def test_a_store_that_is_killed_loses_nothing(tmp_path):
    command = [sys.executable, SUPPORT / "killed_store.py", tmp_path / "data", "20", "1"]
    done = subprocess.run(command, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr
    counted = json.loads(done.stdout)
    assert counted["kept"] > 0
    assert counted["kept"] + counted["written"] >= 20


def test_a_server_that_is_killed_loses_nothing(tmp_path):
    counted = killed(tmp_path, 3)
    assert counted["kept"] >= 3


def test_what_a_kill_left_half_written_is_taken_away(tmp_path):
    file = tmp_path / "a[1].yaml"
    for name in (".a[1].yaml.x8kq_2zz.part", ".a[1].yaml.swp", ".a1.yaml.x.part", "a[1].yaml"):
        (tmp_path / name).write_text("x")
    remove_unfinished(file)
    assert sorted(p.name for p in tmp_path.iterdir()) == [
        ".a1.yaml.x.part",
        ".a[1].yaml.swp",
        "a[1].yaml",
    ]
    remove_unfinished(tmp_path / "nowhere" / "a.yaml")
