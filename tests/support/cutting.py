"""Cut packs made in this process, where everything is loaded, and stock to cut from."""

import pickle
import time
from threading import Event

STOCK = {
    "stock.plates": {"four": {"thickness_mm": 4, "sizes_m": [[3.0, 1.5]], "price": 1.7}},
}


class ChildHere:
    """In place of a process of its own: the work is done here, before anybody listens.

    What goes to and from it is sent as to another process: not everything can be.
    """

    def __init__(self, work, *arguments):
        self._messages = []
        work(lambda message: self._messages.append(_sent(message)), *_sent(arguments))

    def messages(self):
        yield from self._messages

    def stop(self):
        self._messages.clear()


def _sent(message):
    return pickle.loads(pickle.dumps(message))


class ChildHalfWay(ChildHere):
    """The same, but the last of several messages waits until it may go on."""

    go_on = Event()

    def messages(self):
        for number, message in enumerate(self._messages, 1):
            if 1 < len(self._messages) == number:
                self.go_on.wait()
            yield message


def finished_cutting(party, revision="working", **query):
    """How a pack is doing, once nothing more is made of it."""
    while True:
        answer = party.get(f"/revisions/{revision}/cutting", **query).json()
        if answer["state"] != "working":
            return answer
        time.sleep(0.02)
