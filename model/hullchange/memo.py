"""Answers kept, so that a dragged dimension works out anew only what depends on it.

One rule makes every key: a question is a plain function, and it is kept by the content of what
it was handed, all of it.  So nothing that an answer depends on can be missing from its key, and
names never stand for shapes.  `functools.cache` on a plain function of values follows the same
rule in the rooms below; `cached_property` belongs to a frozen value.
"""

from collections import OrderedDict
from collections.abc import Callable, Hashable, Mapping
from dataclasses import fields, is_dataclass
from hashlib import sha256
from threading import Lock
from typing import Generic, ParamSpec, TypeVar
from weakref import WeakSet

import numpy as np
from pydantic import BaseModel

Given = ParamSpec("Given")
Value = TypeVar("Value")
_EVERY: "WeakSet[Memo]" = WeakSet()  # type: ignore[type-arg]


class Recent(Generic[Value]):
    """The values used last, by key. Safe to use from several threads."""

    def __init__(self, size: int) -> None:
        """Keep at most ``size`` values."""
        self._size = size
        self._kept: OrderedDict[Hashable, Value] = OrderedDict()
        self._lock = Lock()

    def found(self, key: Hashable) -> Value | None:
        """The value of a key, or None where it is not kept."""
        with self._lock:
            if key not in self._kept:
                return None
            self._kept.move_to_end(key)
            return self._kept[key]

    def keep(self, key: Hashable, value: Value) -> None:
        """Keep a value; the one that was not used for longest gives way."""
        with self._lock:
            self._kept[key] = value
            self._kept.move_to_end(key)
            while len(self._kept) > self._size:
                self._kept.popitem(last=False)

    def all(self) -> dict[Hashable, Value]:
        """What is kept, the value used last at the end."""
        with self._lock:
            return dict(self._kept)

    def forget(self) -> None:
        """Keep nothing of what is kept."""
        with self._lock:
            self._kept.clear()


class Memo(Generic[Given, Value]):
    """A question with its last answers. Safe to ask from several threads."""

    def __init__(self, question: Callable[Given, Value], size: int) -> None:
        """Keep at most ``size`` answers.

        Args:
            question: a plain function that sees nothing but what it is handed; none of its
                answers is None.
            size: how many.
        """
        hidden = getattr(question, "__closure__", ())
        assert hidden is None, f"{question} sees more than it is handed"
        self._question = question
        self.answers: Recent[Value] = Recent(size)
        """Those that are kept."""
        self._lock = Lock()
        self._asked: dict[Hashable, Lock] = {}
        _EVERY.add(self)

    def __call__(self, *given: Given.args, **more: Given.kwargs) -> Value:
        """The answer: kept, or asked for now; whoever comes meanwhile waits."""
        key = (content(given), content(more))
        known = self.answers.found(key)
        if known is not None:
            return known
        with self._lock:
            asked = self._asked.setdefault(key, Lock())
        with asked:
            known = self.answers.found(key)
            if known is not None:
                return known
            try:
                fresh = self._question(*given, **more)
                self.answers.keep(key, fresh)
            finally:
                with self._lock:
                    self._asked.pop(key, None)
        return fresh


def kept(size: int) -> Callable[[Callable[Given, Value]], Memo[Given, Value]]:
    """Make a plain function keep its last ``size`` answers."""
    return lambda question: Memo(question, size)


def every() -> tuple["Memo[..., object]", ...]:
    """Every memo there is."""
    return tuple(_EVERY)


def digest(value: object) -> str:
    """Hash of a value's content, the same in every process."""
    return sha256(repr(content(value)).encode()).hexdigest()


def content(value: object) -> Hashable:
    """What tells a value from every other: equal contents, equal values.

    Plain values, arrays, groups and frozen classes by all they hold; what knows its own content
    by its ``key``; a frozen object that is compared by identity by itself.

    Raises:
        TypeError: for anything that may change behind our back.
    """
    match value:
        case None | str() | bytes() | bool() | int() | float():
            return type(value).__name__, repr(value) if isinstance(value, float) else value
        case BaseModel():
            # what was left unset has its class's default
            said = value.model_dump_json(exclude_unset=True)
            return type(value), sha256(said.encode()).digest()
        case np.ndarray():
            return "array", value.dtype.str, value.shape, value.tobytes()
        case tuple() | list():
            return "list", tuple(content(one) for one in value)
        case Mapping():
            return "group", tuple((content(k), content(v)) for k, v in value.items())
    return _of_class(value)


def _of_class(value: object) -> Hashable:
    kind = type(value)
    if isinstance(value, frozenset):
        return "set", tuple(sorted(repr(content(one)) for one in value))
    key = getattr(value, "key", None)
    if isinstance(key, str):
        return kind, key
    if is_dataclass(value) and getattr(kind, "__dataclass_params__").frozen:  # noqa: B009
        if kind.__eq__ is object.__eq__:
            return _Itself(value)
        return kind, tuple(content(getattr(value, field.name)) for field in fields(value))
    raise TypeError(f"a {kind.__name__} may change behind our back: hand over what is in it")


class _Itself:
    """A frozen object that is equal to itself alone."""

    def __init__(self, value: object) -> None:
        self._value = value

    def __eq__(self, other: object) -> bool:
        return isinstance(other, _Itself) and other._value is self._value

    def __hash__(self) -> int:
        return id(self._value)

    def __repr__(self) -> str:
        raise TypeError(
            f"a {type(self._value).__name__} has no content of its own: give it a key"
        )
