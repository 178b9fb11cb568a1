"""A second process beside a command, for what need not wait; a server has threads for that."""

import os
import pickle
import threading
from collections.abc import Callable, Iterable
from typing import TypeVar

Asked = TypeVar("Asked")
Answer = TypeVar("Answer")


def aside(question: Callable[[], Answer]) -> Callable[[], Answer]:
    """Begin to answer in a process of its own; what is returned waits for the answer.

    Where there is no second core, or that process comes to nothing (a refusal too), the
    question is asked here, when the answer is wanted.
    """
    if not _has_hands_free():
        return question
    source, sink = os.pipe()
    child = os.fork()
    if child == 0:
        _answer_into(sink, question)
    os.close(sink)

    def waited_for() -> Answer:
        with os.fdopen(source, "rb") as told:
            pickled = told.read()
        _, status = os.waitpid(child, 0)
        if status:
            return question()
        answer: Answer = pickle.loads(pickled)
        return answer

    return waited_for


def halved(question: Callable[[Asked], Answer], every: Iterable[Asked]) -> list[Answer]:
    """`map`, every other one answered in a second process."""
    asked = list(every)
    others = aside(lambda: [question(one) for one in asked[1::2]])
    mine = [question(one) for one in asked[::2]]
    theirs = others()
    return [(theirs if i % 2 else mine)[i // 2] for i in range(len(asked))]


def _has_hands_free() -> bool:
    """Two cores, and no thread whose locks a copy of this process would hold for ever."""
    cores = getattr(os, "sched_getaffinity", lambda _: {0})(0)
    return len(cores) > 1 and threading.active_count() == 1


def _answer_into(sink: int, question: Callable[[], object]) -> None:
    status = 1
    try:
        with os.fdopen(sink, "wb") as telling:
            pickle.dump(question(), telling)
        status = 0
    finally:
        # not by way of the interpreter's end: what waits to be printed is printed there
        os._exit(status)
