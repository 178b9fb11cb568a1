"""A server that is stopped prints no error and leaves no process behind."""

import os
import signal
import subprocess
import sys
import urllib.request

import pytest


def leads_to(process):
    """Whether a process is still there."""
    try:
        os.killpg(process.pid, 0)
    except ProcessLookupError:
        return False
    return True


@pytest.mark.slow
@pytest.mark.parametrize("stop_signal", [signal.SIGINT, signal.SIGTERM])
def test_a_server_that_is_stopped_ends_in_good_order(stop_signal):
    command = [sys.executable, "-m", "hullchange_api", "demo", "--no-browser"]
    with subprocess.Popen(
        command,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
        start_new_session=True,
    ) as server:
        address = server.stdout.readline().strip()
        with urllib.request.urlopen(f"{address}api/refits") as answer:
            assert answer.status == 200
        server.send_signal(stop_signal)
        _, errors = server.communicate(timeout=60)
    assert (server.returncode, errors) == (0, "")
    assert not leads_to(server)
