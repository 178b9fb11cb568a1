"""Compiled code: what is compiled once, where it is kept, who may use it, when it goes."""

import ast
import logging
import os
import shutil
import subprocess
import sys
import time
from pathlib import Path

import bodies
import pytest

from hullchange import compiled
from hullchange.floating import kernel
from hullchange.floating.kernel.compiled import COMPILES

KERNEL = sorted(Path(kernel.__file__).parent.glob("*.py"))
MODEL = Path(compiled.__file__).parents[1]
DAY = 24 * 3600.0

of_the_kernel = pytest.mark.skipif(not COMPILES, reason="the kernel is not compiled")


@pytest.fixture
def place(tmp_path, monkeypatch):
    """A folder of its own for machine code."""
    own = tmp_path / "compiled" / "own"
    monkeypatch.setattr(compiled, "folder", lambda _: own)
    compiled.say_not_kept.answers.forget()
    compiled.remove_old_folders.answers.forget()
    return own


def doubled():
    """A compiled function, as a new process has it."""

    def double(x):
        return 2.0 * x

    return compiled.compiled(double)


def calls(function):
    """Whether calling a function found machine code, and whether it compiled."""
    assert function(21.0) == 42.0
    return sum(function.stats.cache_hits.values()), sum(function.stats.cache_misses.values())


FOUND, COMPILED = (1, 0), (0, 1)
NOT_COMPILED = {"FloatArray", "IntArray", "cross", "compiled", "OPTIONS"}
"""What the kernel has from elsewhere: types, functions that no compiled function calls, and how
it is compiled, which is a source of all machine code."""


@pytest.mark.parametrize("path", KERNEL, ids=lambda path: path.name)
def test_the_kernel_is_made_from_its_own_sources_alone(path):
    """What it took from elsewhere could change, and the machine code would not."""
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.ImportFrom) and node.module.startswith("hullchange"):
            names = {alias.name for alias in node.names}
            own = node.module.startswith("hullchange.floating.kernel")
            assert own or names <= NOT_COMPILED


def test_machine_code_is_kept(place):
    assert calls(doubled()) == COMPILED
    assert calls(doubled()) == FOUND
    assert sorted(path.suffix for path in place.iterdir()) == [".nbc", ".nbi"]


@pytest.mark.parametrize("suffix", [".nbc", ".nbi"])
def test_a_damaged_file_is_written_anew(place, suffix):
    doubled()(21.0)
    next(place.glob(f"*{suffix}")).write_bytes(b"")
    assert calls(doubled()) == COMPILED
    assert calls(doubled()) == FOUND


def test_a_folder_that_cannot_be_written_stops_nothing(place, caplog):
    place.parent.write_text("a file where the folder should be")
    with caplog.at_level(logging.WARNING):
        assert calls(doubled()) == COMPILED
        assert calls(doubled()) == COMPILED
    (message,) = caplog.messages
    assert message == (
        f"Compiled code cannot be kept in {place}: Not a directory. "
        "It is compiled again at every start."
    )


def test_what_other_kernels_left_is_removed_when_old(place):
    ages = {"in-use": 0.1, "last-week": 7.0, "last-month": 41.0, "last-season": 43.0}
    aged(place.parent, ages)
    doubled()(21.0)
    left = {"own", "in-use", "last-week", "last-month"}
    assert {path.name for path in place.parent.iterdir()} == left


def test_so_many_kernels_are_kept_and_no_more(place):
    aged(place.parent, {f"change-{number:02}": 0.1 + number / 100.0 for number in range(30)})
    doubled()(21.0)
    kept = [f"change-{number:02}" for number in range(compiled.MOST_FOLDERS - 1)]
    assert sorted(path.name for path in place.parent.iterdir()) == [*kept, "own"]


def aged(parent, days):
    """Folders last used so many days ago."""
    for name, ago in days.items():
        (parent / name).mkdir(parents=True)
        (parent / name / "code.nbc").touch()
        at = time.time() - ago * DAY
        os.utime(parent / name, (at, at))


COUNTS = """
print(sum(asked.stats.cache_hits.values()), sum(asked.stats.cache_misses.values()))
"""
KERNEL_ASKED = """
from hullchange.floating.kernel.vectors import tilts as asked
asked((0.0, 0.0, 1.0))
"""
RASTER_ASKED = """
import numpy as np
from hullchange.shop.raster import _first_fit as asked
asked(np.zeros((2, 2), np.bool_), np.zeros((1, 2), np.int32))
"""
RULED_ASKED = """
import numpy as np
from hullchange.geometry.ruled import _totals as asked
asked(np.zeros((2, 2)), np.zeros(2), np.zeros(2), 1.0)
"""


def asked(question, model, **environment):
    """Numbers printed by a new process that has the model from a folder."""
    paths = os.pathsep.join([str(model), os.path.dirname(bodies.__file__)])
    run = subprocess.run(
        [sys.executable, "-W", "error", "-c", question],
        env=os.environ | {"PYTHONPATH": paths} | environment,
        capture_output=True,
        text=True,
        check=True,
    )
    return tuple(int(word) for word in run.stdout.split())


@pytest.mark.slow
@pytest.mark.parametrize(
    ("question", "source"),
    [
        pytest.param(KERNEL_ASKED, "floating/kernel/held.py", marks=of_the_kernel),
        pytest.param(KERNEL_ASKED, "compiled.py", marks=of_the_kernel),
        (RASTER_ASKED, "shop/raster.py"),
        (RULED_ASKED, "geometry/ruled.py"),
    ],
)
def test_another_clone_compiles_nothing_and_a_changed_source_compiles_anew(
    tmp_path, question, source
):
    ask = question + COUNTS
    clones = [tmp_path / name for name in ("one", "other")]
    for clone in clones:  # a copy has times of its own, as a clone has
        shutil.copytree(MODEL, clone, copy_function=shutil.copyfile)
    cache = {"XDG_CACHE_HOME": str(tmp_path / "cache")}
    assert asked(ask, clones[0], **cache) == COMPILED
    assert asked(ask, clones[1], **cache) == FOUND
    changed = clones[1] / "hullchange" / source
    changed.write_text(changed.read_text("utf-8") + "\n# changed\n", "utf-8")
    assert asked(ask, clones[1], **cache) == COMPILED
    assert asked(ask, clones[1], **cache) == FOUND
    assert asked(ask, clones[0], **cache) == FOUND


SESSION = """
import numpy as np
import bodies
from hullchange.floating.envelope import Envelope, Piece
from hullchange.floating.equilibrium import Loading, Tank, equilibrium, predicted
from hullchange.floating.kernel import below_plane, descent, held, vectors
from hullchange.floating.levers import flooded_levers, righting_levers
from hullchange.floating.liquids import liquid_integrals
from hullchange.floating.weight_slopes import upright_gm_slopes, weight_slopes
from hullchange.geometry.surface import box
envelope = Envelope((Piece(bodies.yacht(16), True, "hull"),))
tank = Tank(box(np.array([3.0, 0.1, -0.3]), np.array([4.0, 0.9, 0.1])), 0.2, 1000.0)
heels = np.radians(np.arange(-30.0, 31.0, 10.0))
for tanks in ((), (tank,)):
    loading = Loading(8800.0, np.array([5.9, 0.3, 0.0]), tanks)
    rest = equilibrium(envelope, loading, 1025.0)
    again = equilibrium(envelope, loading, 1025.0, predicted(rest, loading))
    curve = righting_levers(envelope, loading, 1025.0, heels, rest.plane)
    curve.vanishing_angle("starboard"), curve.at(0.2), weight_slopes(curve)
    upright_gm_slopes(rest.upright), rest.tilts, envelope.integrals(rest.plane)
    flooded_levers(envelope, loading, 1025.0, heels, lambda plane: (tank,))
liquid_integrals(tank, rest.plane.up)
kernel = {id(f): f for m in (below_plane, descent, held, vectors) for f in vars(m).values()}
print(*(len(f.signatures) for f in kernel.values() if hasattr(f, "signatures")))
"""


@of_the_kernel
@pytest.mark.slow
def test_nothing_is_compiled_for_two_kinds_of_arguments():
    signatures = asked(SESSION, MODEL)
    assert signatures == (1,) * 9
