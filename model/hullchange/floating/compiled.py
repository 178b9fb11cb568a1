"""Whether loops are compiled: numba where it can be imported, plain numpy otherwise.

``HULLCHANGE_KERNEL=numpy`` in the environment asks for numpy. Imported at first use only,
because importing numba takes a fifth of a second.
"""

import os
from collections.abc import Callable
from importlib.util import find_spec
from typing import ParamSpec, TypeVar

P = ParamSpec("P")
R = TypeVar("R")

COMPILES = os.environ.get("HULLCHANGE_KERNEL", "numba") != "numpy" and bool(find_spec("numba"))
"""True where loops are compiled."""


def compiled(function: Callable[P, R]) -> Callable[P, R]:
    """The function compiled, its machine code kept on disk; unchanged without numba."""
    if not COMPILES:
        return function
    from numba import njit

    machine_code: Callable[P, R] = njit(cache=True, error_model="numpy")(function)
    return machine_code
