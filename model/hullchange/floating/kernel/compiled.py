"""Which functions of the kernel are compiled: all, or none, and then they run as they stand.

``HULLCHANGE_KERNEL=numpy`` in the environment asks for the latter. Modules that import this one
are imported at first use only, because importing numba takes a fifth of a second.
"""

import os
from collections.abc import Callable
from pathlib import Path
from typing import Any, ParamSpec, TypeVar

P = ParamSpec("P")
R = TypeVar("R")

COMPILES = os.environ.get("HULLCHANGE_KERNEL", "numba") != "numpy"
"""True where functions are compiled."""

SOURCES = sorted(Path(__file__).parent.glob("*.py"))
"""What each compiled function of the kernel may be made from."""

_INNER: list[Any] = []  # numba itself does not keep them alive


def entry(function: Callable[P, R]) -> Callable[P, R]:
    """A function that Python calls, compiled at its first call; its machine code is kept."""
    if not COMPILES:
        return function
    from hullchange.compiled import compiled

    return compiled(function, *SOURCES)


def inner(function: Callable[P, R]) -> Callable[P, R]:
    """A function that only compiled functions call compiled; Python calls it as it stands.

    So it needs no way in from Python and no machine code on disk of its own. Both would take as
    long to compile as the function itself.
    """
    if COMPILES:
        from numba import njit
        from numba.core.types import Dispatcher
        from numba.core.typing.templates import infer_global

        from hullchange.compiled import OPTIONS

        dispatcher: Any = njit(**(OPTIONS | {"no_cpython_wrapper": True}))(function)
        register: Any = infer_global
        register(function, Dispatcher(dispatcher))
        _INNER.append(dispatcher)
    return function
