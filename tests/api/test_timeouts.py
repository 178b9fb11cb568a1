"""Who hangs up, or falls silent half-way, costs no descriptor and no word in the log."""

import os
import socket
import time
from pathlib import Path
from urllib.parse import urlsplit

import pytest
from server_process import Server

from hullchange.start.invented import starting_document

WORKING = "/api/refits/dot/revisions/working"
SHORT_TIMEOUTS = str(Path(__file__).parents[1] / "support/short_timeout_server.py")
MANY = 12
HEAD = "Host: 127.0.0.1\r\nContent-Type: application/json\r\n"
HALVES = {
    "nothing at all": "",
    "half a line": "GET /api/ref",
    "half of the headers": f"GET /api/refits HTTP/1.1\r\n{HEAD}",
    "half a body": f"PATCH {WORKING} HTTP/1.1\r\n{HEAD}Content-Length: 500\r\n\r\n{{",
    "half an attachment": (
        "POST /api/refits/dot/attachments?id=5d8e8a3a-0000-4000-8000-000000000000&name=a.jpg"
        "&author=A HTTP/1.1\r\nHost: 127.0.0.1\r\nContent-Type: application/octet-stream\r\n"
        "Content-Length: 5000\r\n\r\nxxx"
    ),
    "half an archive": (
        "POST /api/archive HTTP/1.1\r\nHost: 127.0.0.1\r\nContent-Type: application/zip\r\n"
        "Content-Length: 5000\r\n\r\nPK"
    ),
    "a body that is too large": (
        f"POST {WORKING}/lines HTTP/1.1\r\n{HEAD}Content-Length: 999999999\r\n\r\n{{"
    ),
    "a whole answer": f"GET {WORKING}?full=false HTTP/1.1\r\n{HEAD}\r\n",
    "events": f"GET /api/refits/dot/events HTTP/1.1\r\n{HEAD}\r\n",
}
HEARD_FOR_DAYS = ("events",)


def open_sockets(server):
    """How many sockets the server holds open."""
    folder = Path(f"/proc/{server.process.pid}/fd")
    return sum(
        os.readlink(one).startswith("socket") for one in folder.iterdir() if one.exists()
    )


def settled_at(server, count):
    """Whether the server comes to hold no more sockets than that."""
    for _ in range(150):
        if open_sockets(server) <= count:
            return True
        time.sleep(0.1)
    return False


def connected(server, request):
    """A connection on which something was sent."""
    place = urlsplit(server.address)
    caller = socket.create_connection((place.hostname, place.port), timeout=10)
    caller.sendall(request.encode())
    return caller


@pytest.fixture
def server(tmp_path):
    file = tmp_path / "dot.yaml"
    file.write_text(starting_document("Dot"), encoding="utf-8")
    with Server(file, "--no-browser", program=[SHORT_TIMEOUTS]) as server:
        page = server.caller()
        page.seen()
        page.close()
        time.sleep(1.0)
        yield server


@pytest.mark.slow
@pytest.mark.skipif(not Path("/proc/self/fd").is_dir(), reason="descriptors are counted there")
def test_who_hangs_up_or_waits_for_ever_is_let_go(server):
    held, kept = open_sockets(server), []
    for request in HALVES.values():
        for _ in range(MANY):
            connected(server, request).close()
    assert settled_at(server, held)
    for name, request in HALVES.items():
        kept += [connected(server, request) for _ in range(MANY) if name not in HEARD_FOR_DAYS]
    assert settled_at(server, held)
    for caller in kept:
        caller.close()
    events = connected(server, HALVES["events"])
    time.sleep(4.0)
    assert open_sockets(server) > held  # events stay open
    events.close()
    assert server.end() == ""
