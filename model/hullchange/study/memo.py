"""Answers kept by key, so that a dragged dimension rebuilds only what depends on it."""

from collections import OrderedDict
from collections.abc import Callable, Hashable
from threading import Lock
from typing import Generic, TypeVar

Answer = TypeVar("Answer")


class Memo(Generic[Answer]):
    """The last answers of a pure function, by key. Safe to use from several threads."""

    def __init__(self, size: int) -> None:
        """Keep at most ``size`` answers."""
        self._size = size
        self._kept: OrderedDict[Hashable, Answer] = OrderedDict()
        self._lock = Lock()
        self._asked: dict[Hashable, Lock] = {}

    def answer(self, key: Hashable, question: Callable[[], Answer]) -> Answer:
        """The answer for ``key``: kept, or asked for now; whoever comes meanwhile waits."""
        with self._lock:
            if key in self._kept:
                self._kept.move_to_end(key)
                return self._kept[key]
            asked = self._asked.setdefault(key, Lock())
        with asked:
            with self._lock:
                if key in self._kept:
                    return self._kept[key]
            try:
                fresh = question()
                self._keep(key, fresh)
            finally:
                with self._lock:
                    self._asked.pop(key, None)
        return fresh

    def _keep(self, key: Hashable, fresh: Answer) -> None:
        with self._lock:
            self._kept[key] = fresh
            self._kept.move_to_end(key)
            if len(self._kept) > self._size:
                self._kept.popitem(last=False)
