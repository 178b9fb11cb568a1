"""A server away from loopback: its secret link, streams that stay open, a file that changes."""

import http.client
import json
import signal
import socket
from urllib.parse import urlsplit

import pytest
from server_process import Server, waited

from hullchange.errors import ModelError
from hullchange.start.invented import starting_document
from hullchange_api import serving
from hullchange_api.serving import ListenAddress


def asked(server, verb, path, body=None, **headers):
    """The answer of a request to where the server is on this machine."""
    port = urlsplit(server.address).port
    connection = http.client.HTTPConnection("127.0.0.1", port, timeout=30)
    sent = {"Content-Type": "application/json", "Connection": "close", **headers}
    connection.request(verb, path, body, sent)
    return connection.getresponse()


def status(*given, **headers):
    """Its status."""
    with asked(*given, **headers) as answer:
        answer.read()
        return answer.status


def next_event(stream, kind):
    """What the next word of a kind says."""
    while stream.readline().decode() != f"event: {kind}\n":
        pass
    return json.loads(stream.readline().decode().removeprefix("data: "))


@pytest.mark.slow
def test_a_server_that_others_reach(tmp_path):
    file = tmp_path / "dot.yaml"
    file.write_text(starting_document("Dot"), encoding="utf-8")
    with Server(file, "--host", "0.0.0.0") as server:
        assert len(server.secret) >= 43  # 256 bits
        assert status(server, "GET", "/api/refits") == 403
        assert status(server, "GET", "/", Host="evil.example") == 403
        entry = json.dumps({"token": server.secret})
        with asked(server, "POST", "/api/entry", entry) as entered:
            cookie = entered.headers["Set-Cookie"].split(";")[0]
        assert status(server, "GET", "/api/refits", Cookie=cookie) == 200
        stream = asked(server, "GET", "/api/refits/dot/events", Cookie=cookie)
        assert stream.headers["Content-Type"].startswith("text/event-stream")
        # somebody edits the file
        file.write_text(file.read_text().replace("mass_kg: 140", "mass_kg: 150"))
        assert next_event(stream, "edit") == {"edit": 2}
        assert server.end(signal.SIGINT) == ""
        assert server.process.returncode == 0
        assert b"event" not in stream.read()  # it ends
        # what it started ends with it, but nobody has to see that at once
        assert waited(lambda: not server.has_left_processes())


@pytest.mark.slow
def test_a_secret_link_is_asked_for_on_this_computer_too(tmp_path):
    file = tmp_path / "dot.yaml"
    file.write_text(starting_document("Dot"), encoding="utf-8")
    with Server(file, "--secret-link") as server:
        assert urlsplit(server.address).hostname == "127.0.0.1"
        assert len(server.secret) >= 43
        assert status(server, "GET", "/api/refits") == 403
        entry = json.dumps({"token": server.secret})
        with asked(server, "POST", "/api/entry", entry) as entered:
            cookie = entered.headers["Set-Cookie"].split(";")[0]
        assert status(server, "GET", "/api/refits", Cookie=cookie) == 200


@pytest.mark.slow
def test_an_open_page_is_told_at_once_that_its_link_was_revoked(tmp_path):
    file = tmp_path / "dot.yaml"
    file.write_text(starting_document("Dot"), encoding="utf-8")
    with Server(file) as server:
        caller = server.caller()
        caller.ask("POST", f"{caller.refit}/revisions", {}, caller.seen())
        made = caller.ask("POST", f"{caller.refit}/shares", {"label": "x", "revisions": [1]})[1]
        token = json.dumps({"token": made["link"].rsplit("/", 1)[1]})
        with asked(server, "POST", "/api/entry", token) as entered:
            cookie = entered.headers["Set-Cookie"].split(";")[0]
        stream = asked(server, "GET", "/api/refits/dot/events", Cookie=cookie)
        assert stream.readline() == b": listening\n"
        caller.ask("DELETE", f"{caller.refit}/shares/{made['share']['id']}")
        assert "revoked" in next_event(stream, "shut")["why"]
        assert stream.read().strip() == b""
        caller.close()


@pytest.mark.parametrize("host", ["127.0.0.1", "localhost", "0.0.0.0"])
def test_the_server_listens_where_it_is_told_to(host):
    with serving._listening_socket(ListenAddress(host)) as listening:
        assert listening.getsockname()[1] > 0
        assert serving._in_address(listening.getsockname()[0]) != "0.0.0.0"


@pytest.mark.parametrize("host", ["192.0.2.7", "nowhere.invalid", "a b"])
def test_a_host_that_is_elsewhere_is_refused(host):
    with pytest.raises(ModelError) as refused:
        serving._listening_socket(ListenAddress(host))
    assert refused.value.code == "host-not-here"


def test_a_port_that_is_taken_is_refused():
    with (
        serving._listening_socket(ListenAddress()) as door,
        pytest.raises(ModelError) as refused,
    ):
        serving._listening_socket(ListenAddress(port=door.getsockname()[1]))
    assert refused.value.code == "port-taken"


def test_addresses_of_the_sixth_version_stand_in_brackets():
    assert serving._in_address("::1") == "[::1]"
    assert socket.gethostname().lower() in serving._own_names("Boat.example")
    assert "boat.example" in serving._own_names("Boat.example")


def test_small_answers_are_sent_at_once():
    with serving._listening_socket(ListenAddress()) as listening:
        # what asyncio asks before it turns Nagle's algorithm off on a connection
        assert listening.proto == socket.IPPROTO_TCP


@pytest.mark.parametrize("system", ["linux", "win32"])
def test_no_port_is_shared_on_windows(monkeypatch, system):
    monkeypatch.setattr(serving.sys, "platform", system)
    with serving._listening_socket(ListenAddress()) as listening:
        shared = listening.getsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR)
    assert bool(shared) == (system == "linux")
