"""The one cache: a plain function with its latest answers, by the content of its arguments.

One rule makes every key: all that the function is handed, by content.  So nothing that an
answer depends on can be missing from its key, and names never stand for shapes.  The content of
a frozen value is worked out once and remembered as long as the value lives.
"""

from collections import OrderedDict
from collections.abc import Callable, Hashable, Mapping
from dataclasses import fields, is_dataclass
from hashlib import sha256
from threading import Lock
from typing import Any, Generic, ParamSpec, TypeVar, cast
from weakref import ref

import numpy as np
from pydantic import BaseModel

Given = ParamSpec("Given")
Value = TypeVar("Value")
_MISSING: Any = object()


class Recent(Generic[Value]):
    """The values used last, by key, as many as there is room for. Safe in several threads."""

    def __init__(self, room: int, weight: Callable[[Value], int] | None = None) -> None:
        """Keep values up to a total weight.

        Args:
            room: the total weight.
            weight: of a value, at least 1; 1 for each by default, so that ``room`` counts them.
        """
        self.room, self._weight = room, weight
        self._values: OrderedDict[Hashable, tuple[Value, int]] = OrderedDict()
        self._total = 0
        self._lock = Lock()

    def find(self, key: Hashable, default: Value | None = None) -> Value | None:
        """The value of a key, or the default."""
        with self._lock:
            held = self._values.get(key)
            if held is None:
                return default
            self._values.move_to_end(key)
            return held[0]

    def keep(self, key: Hashable, value: Value) -> None:
        """Keep a value if it fits; those that were not used for longest give way."""
        weight = 1 if self._weight is None else self._weight(value)
        with self._lock:
            self._drop(key)
            self._values[key] = value, weight
            self._total += weight
            while self._total > self.room:
                self._drop(next(iter(self._values)))

    def all(self) -> dict[Hashable, Value]:
        """Everything that is held, the value used last at the end."""
        with self._lock:
            return {key: value for key, (value, _) in self._values.items()}

    def forget(self) -> None:
        """Hold nothing."""
        with self._lock:
            self._values.clear()
            self._total = 0

    def _drop(self, key: Hashable) -> None:
        _, weight = self._values.pop(key, (None, 0))
        self._total -= weight


class Cache(Generic[Given, Value]):
    """A function with its latest answers. Safe to ask from several threads."""

    def __init__(
        self,
        function: Callable[Given, Value],
        room: int,
        weight: Callable[[Value], int] | None = None,
    ) -> None:
        """Hold answers up to a total weight.

        Args:
            function: a plain function that sees nothing but what it is handed.
            room: the total weight; the number of answers where each weighs 1.
            weight: of an answer.
        """
        hidden = getattr(function, "__closure__", ())
        assert hidden is None, f"{function} sees more than it is handed"
        self._function = function
        self.answers: Recent[Value] = Recent(room, weight)
        """Those that are held."""
        self._lock = Lock()
        self._asked: dict[Hashable, Lock] = {}

    def __call__(self, *given: Given.args, **more: Given.kwargs) -> Value:
        """The answer: held, or worked out now; whoever asks meanwhile waits for it."""
        key = content_key((given, more) if more else given)
        known: Any = self.answers.find(key, _MISSING)
        if known is not _MISSING:
            return cast("Value", known)
        with self._lock:
            asked = self._asked.setdefault(key, Lock())
        with asked:
            known = self.answers.find(key, _MISSING)
            if known is not _MISSING:
                return cast("Value", known)
            try:
                fresh = self._function(*given, **more)
                self.answers.keep(key, fresh)
            finally:
                with self._lock:
                    self._asked.pop(key, None)
        return fresh


def cached(
    room: int, weight: Callable[[Any], int] | None = None
) -> Callable[[Callable[Given, Value]], Cache[Given, Value]]:
    """Make a plain function hold its latest answers; each weighs 1 unless a weight is given."""
    return lambda function: Cache(function, room, weight)


def content_digest(value: object) -> str:
    """Hash of a value's content, the same in every process."""
    return sha256(repr(content_key(value)).encode()).hexdigest()


def content_key(value: object) -> Hashable:
    """A key that tells a value from every other: equal keys, equal contents.

    Plain values, arrays, groups and frozen classes by all they hold; what knows its own content
    by its ``key``; a frozen object that is compared by identity by itself; a class by itself.

    Raises:
        TypeError: for anything that may change at any time.
    """
    kind = type(value)
    if kind in _PLAIN:
        return kind.__name__, value
    if kind is tuple or kind is list:
        return "list", tuple([content_key(one) for one in value])  # type: ignore[attr-defined]
    known = _KEYS.get(id(value))
    if known is not None and known[0]() is value:
        return known[1]
    return _group_key(value) or _key_of_frozen(value)


_PLAIN = frozenset({type(None), str, bytes, bool, int})
_SMALL = 64  # [bytes] an array up to this is its own key, a larger one goes by its hash
_KEYS: dict[int, tuple[Any, Hashable]] = {}
"""Keys of frozen values by their identity, each beside a reference that ends with the value."""


def _group_key(value: object) -> Hashable | None:
    """The key of what may be built anew at any time, for each use; None for anything else."""
    key: Hashable | None = None
    match value:
        case float():
            key = "float", repr(value)
        case str() | int():  # of a class of its own
            key = type(value), value
        case tuple() | list():
            key = "list", tuple([content_key(one) for one in value])
        case np.ndarray():
            held = value.tobytes()
            short = held if len(held) <= _SMALL else sha256(held).digest()
            key = "array", value.dtype.str, value.shape, short
        case frozenset():
            key = "set", tuple(sorted(repr(content_key(one)) for one in value))
        case type():
            key = "class", value
        case Mapping():
            key = (
                "group",
                tuple([(content_key(k), content_key(v)) for k, v in value.items()]),
            )
    return key


def _key_of_frozen(value: object) -> Hashable:
    kind = type(value)
    own = getattr(value, "key", None)
    if isinstance(own, str):
        return kind, own
    if isinstance(value, BaseModel):
        # what was left unset has its class's default
        text = value.model_dump_json(exclude_unset=True)
        key: Hashable = kind, sha256(text.encode()).digest()
        return _remembered(value, key) if value.model_config.get("frozen") else key
    if not (is_dataclass(value) and getattr(kind, "__dataclass_params__").frozen):  # noqa: B009
        raise TypeError(f"a {kind.__name__} may change at any time: hand over what is in it")
    if kind.__eq__ is object.__eq__:
        return _Itself(value)
    parts = tuple([content_key(getattr(value, field.name)) for field in fields(value)])
    try:
        return _remembered(value, (kind, sha256(repr(parts).encode()).digest()))
    except _NoContentError:  # something in it is equal to itself alone
        return kind, parts


def _remembered(value: object, key: Hashable) -> Hashable:
    """The key, remembered until the value ends."""
    place = id(value)
    _KEYS[place] = ref(value, lambda _: _KEYS.pop(place, None)), key
    return key


class _NoContentError(TypeError):
    """A frozen object without content of its own was to be hashed."""


class _Itself:
    """A frozen object that is equal to itself alone."""

    def __init__(self, value: object) -> None:
        self._value = value

    def __eq__(self, other: object) -> bool:
        return isinstance(other, _Itself) and other._value is self._value

    def __hash__(self) -> int:
        return id(self._value)

    def __repr__(self) -> str:
        raise _NoContentError(
            f"a {type(self._value).__name__} has no content of its own: give it a key"
        )
