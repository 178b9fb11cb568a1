"""A real server in a process of its own, and plain requests to it from many threads."""

import http.client
import json
import os
import signal
import subprocess
import sys
import threading
import time
from pathlib import Path
from urllib.parse import urlsplit

MOTOR = "changes.drive.adds.motor.mass_kg"


class Server:
    """A server of one document, its data beside the document."""

    def __init__(self, file, *options, under=(), program=("-m", "hullchange_api")):
        file = Path(file)
        command = [*under, sys.executable, *program, "serve", str(file)]
        command += ["--port", "0", "--data", str(file.parent / "data"), *options]
        self.refit = file.stem
        # a session of its own: what it starts is found by its group
        self.process = subprocess.Popen(
            command,
            stdout=subprocess.PIPE,
            stderr=subprocess.PIPE,
            text=True,
            start_new_session=True,
        )
        link = next(line for line in self.process.stdout if "http" in line).strip()
        self.address, _, self.secret = link.partition("#/owner/")

    def caller(self):
        """A connection of its own."""
        return Caller(self.address, self.refit)

    def kill(self):
        """Cut it off."""
        self.end(signal.SIGKILL)

    def end(self, how=signal.SIGTERM):
        """Send a signal, wait until it is gone, and return its last output."""
        self.process.send_signal(how)
        _, errors = self.process.communicate(timeout=60)
        return errors

    def has_left_processes(self):
        """Whether anything it started is still there."""
        try:
            os.killpg(self.process.pid, 0)
        except ProcessLookupError:
            return False
        return True

    def __enter__(self):
        return self

    def __exit__(self, *_):
        if self.process.poll() is None:
            self.end()


class Caller:
    """One page: a connection that stays open."""

    def __init__(self, address, refit):
        self.connection = http.client.HTTPConnection(urlsplit(address).netloc, timeout=120)
        self.refit = f"/api/refits/{refit}"
        self.working = f"{self.refit}/revisions/working"

    def close(self):
        """Hang up."""
        self.connection.close()

    def ask(self, verb, path, body=None, edit=None):
        """(status, answer) of a request."""
        headers = {"Content-Type": "application/json"}
        if edit is not None:
            headers["If-Match"] = f'"{edit}"'
        sent = None if body is None else json.dumps(body)
        status, content = self.fetch(path, verb, sent, headers)
        return status, json.loads(content) if content else None

    def fetch(self, path, verb="GET", sent=None, headers=None):
        """(status, bytes) of a request."""
        self.connection.request(verb, path, sent, headers or {})
        answer = self.connection.getresponse()
        return answer.status, answer.read()

    def edit(self, path, value, seen, **more):
        """(status, answer) of setting one value."""
        steps = [{"op": "set", "path": path, "value": value}]
        body = {"label": f"{path} {value}", "steps": steps, **more}
        return self.ask("PATCH", self.working, body, seen)

    def seen(self):
        """Number of the last edit."""
        return self.ask("GET", f"{self.working}?full=false")[1]["edit"]

    def edit_until_taken(self, path, value, **more):
        """(edits it was overtaken by, answer) of setting one value, however long it takes."""
        losses = 0
        seen = self.seen()
        while True:
            status, answer = self.edit(path, value, seen, **more)
            if status == 200:
                return losses, answer
            assert (status, answer["code"]) == (412, "overtaken"), answer
            losses += 1
            seen = self.seen()


def run_in_threads(tasks):
    """Run tasks in threads of their own; the first failure of one is raised."""
    failures = []

    def guarded(task):
        try:
            task()
        except BaseException as error:
            failures.append(error)

    threads = [threading.Thread(target=guarded, args=(task,)) for task in tasks]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    if failures:
        raise failures[0]


def waited(true, seconds=20.0):
    """Wait until something is true, and answer whether it is."""
    until = time.monotonic() + seconds
    while time.monotonic() < until:
        if true():
            return True
        time.sleep(0.02)
    return False
