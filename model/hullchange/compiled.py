"""Functions compiled by numba, and where their machine code is kept between two runs.

Numba keeps it beside a function's source, and notices a change in that one file only. Here it
lies in the user's cache folder, in a folder named after all that it is made from: its sources,
numba, Python and the processor. So a change in any source compiles all that is made from it
anew, and another clone of the same sources compiles nothing. Importing numba takes a fifth of
a second: modules that import this one are imported at first use.
"""

import logging
import os
import sys
import time
from collections.abc import Callable
from contextlib import suppress
from functools import partial
from hashlib import sha256
from inspect import getfile
from pathlib import Path
from pickle import UnpicklingError
from shutil import rmtree
from types import SimpleNamespace
from typing import Any, ParamSpec, TypeVar, cast

import numba
from numba.core.caching import CompileResultCacheImpl, FunctionCache, _CacheLocator
from numba.core.registry import cpu_target
from platformdirs import user_cache_path

from hullchange.cache import cached

P = ParamSpec("P")
R = TypeVar("R")

OPTIONS: dict[str, Any] = {"error_model": "numpy", "no_cfunc_wrapper": True}
"""Division by zero gives infinity, as with numpy. Nothing is called from C."""

KEPT_FOR = 42 * 24 * 3600.0
"""[s] Six weeks: a branch that is taken up again within them compiles nothing."""

MOST_FOLDERS = 24
"""of up to 1.5 MB each. Every change of a compiled source leaves one behind."""

UNREADABLE = (OSError, EOFError, UnpicklingError)
"""What a damaged file, or a disk, answers."""


def compiled(function: Callable[P, R], *sources: Path) -> Callable[P, R]:
    """A function that Python calls, compiled at its first call; its machine code is kept.

    Args:
        function: to be compiled.
        sources: every file that it is made from; its own by default.
    """
    dispatcher: Any = numba.njit(**OPTIONS)(function)
    made_from = sources or (Path(getfile(function)),)
    dispatcher._cache = MachineCode(function, folder(tuple(map(str, made_from))))
    return cast("Callable[P, R]", dispatcher)


class _Place(_CacheLocator):
    """Where a function's machine code lies, as numba asks for it."""

    def __init__(self, kept_in: str, source: str) -> None:
        self._kept_in = kept_in
        self._py_file = source  # numba names it in warnings

    def get_cache_path(self) -> str:
        return self._kept_in

    def get_source_stamp(self) -> str:
        return ""  # the folder's name says it

    def get_disambiguator(self) -> str:
        return "kept"


class _Stored(CompileResultCacheImpl):
    _locator_classes: list[Any]

    def __init__(self, function: Callable[..., object], kept_in: str) -> None:
        place = _Place(kept_in, getfile(function))
        self._locator_classes = [SimpleNamespace(from_function=lambda *_: place)]
        super().__init__(function)  # type: ignore[no-untyped-call]  # numba's


class MachineCode(FunctionCache):
    """A function's machine code on disk. A disk that does not read or write stops nothing."""

    _impl_class: Any

    def __init__(self, function: Callable[..., object], kept_in: Path) -> None:
        self._kept_in = str(kept_in)
        self._impl_class = partial(_Stored, kept_in=self._kept_in)
        super().__init__(function)  # type: ignore[no-untyped-call]  # numba's

    def load_overload(self, sig: object, target_context: object) -> object:
        """What was kept for arguments of these types, or None."""
        _mark_as_used(self._kept_in)
        try:
            return super().load_overload(sig, target_context)  # type: ignore[no-untyped-call]  # numba's
        except UNREADABLE:
            with suppress(OSError):
                self.flush()  # type: ignore[no-untyped-call]  # numba's
            return None

    def save_overload(self, sig: object, data: object) -> None:
        """Keeps what was made for arguments of these types; says once where it cannot."""
        try:
            super().save_overload(sig, data)  # type: ignore[no-untyped-call]  # numba's
        except UNREADABLE as fault:
            say_not_kept(self._kept_in, getattr(fault, "strerror", None) or str(fault))
        else:
            remove_old_folders(self._kept_in)


def folder(sources: tuple[str, ...]) -> Path:
    """Where the machine code made from some source files is kept on this machine."""
    return user_cache_path("hullchange") / "compiled" / _hash(sources)


@cached(8)
def _hash(sources: tuple[str, ...]) -> str:
    processor = cpu_target.target_context.codegen().magic_tuple()
    made_by = numba.__version__, sys.implementation.cache_tag, processor
    found = sha256(repr(made_by).encode())
    for source in sorted(map(Path, (__file__, *sources))):
        found.update(f"\n{source.name}\n".encode() + source.read_bytes())
    return found.hexdigest()[:32]


@cached(8)
def _mark_as_used(kept_in: str) -> None:
    with suppress(OSError):
        os.utime(kept_in)


@cached(8)
def say_not_kept(kept_in: str, reason: str) -> None:
    """Says once why nothing is kept in a folder."""
    logging.getLogger(__name__).warning(
        "Compiled code cannot be kept in %s: %s. It is compiled again at every start.",
        kept_in,
        reason,
    )


@cached(8)
def remove_old_folders(kept_in: str) -> None:
    """Removes what other sources left: what is old, and the oldest beyond a number."""
    own, now = Path(kept_in), time.time()
    with suppress(OSError):
        used = [(other.stat().st_mtime, other) for other in own.parent.iterdir()]
        others = sorted(((at, other) for at, other in used if other != own), reverse=True)
        for rank, (at, other) in enumerate(others, start=1):
            if rank >= MOST_FOLDERS or now - at > KEPT_FOR:
                rmtree(other, ignore_errors=True)
