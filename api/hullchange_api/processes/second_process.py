"""A second process beside a command, for work that can run in parallel.

It is a fork, so that nothing has to be loaded or sent to it. Only Linux forks safely with the
libraries loaded here; elsewhere the work is done in this process, with the same result.
"""

import os
import pickle
import sys
import threading
from collections.abc import Callable, Iterable
from typing import NoReturn, TypeVar

Argument = TypeVar("Argument")
Computed = TypeVar("Computed")


def run_in_second_process(work: Callable[[], Computed]) -> Callable[[], Computed]:
    """Start work in a second process; returns a function that waits for its result.

    Without a second core, or if that process fails (a refusal included), the work is done in
    this process when the result is needed.
    """
    if sys.platform != "linux" or len(os.sched_getaffinity(0)) < 2:
        return work
    if threading.active_count() > 1:  # a fork would hold the locks of other threads forever
        return work
    source, sink = os.pipe()
    child = os.fork()
    if child == 0:
        _send_result(sink, work)
    os.close(sink)

    def result() -> Computed:
        with os.fdopen(source, "rb") as pipe:
            pickled = pipe.read()
        _, status = os.waitpid(child, 0)
        if status:
            return work()
        unpickled: Computed = pickle.loads(pickled)
        return unpickled

    return result


def on_two_cores(
    work: Callable[[Argument], Computed], arguments: Iterable[Argument]
) -> list[Computed]:
    """`map`, with every other call made in a second process."""
    every = list(arguments)
    others = run_in_second_process(lambda: [work(one) for one in every[1::2]])
    mine = [work(one) for one in every[::2]]
    theirs = others()
    return [(theirs if i % 2 else mine)[i // 2] for i in range(len(every))]


def _send_result(sink: int, work: Callable[[], object]) -> NoReturn:
    status = 1
    try:
        with os.fdopen(sink, "wb") as pipe:
            pickle.dump(work(), pipe)
        status = 0
    finally:
        # a normal exit would print the parent's buffered output a second time
        os._exit(status)
