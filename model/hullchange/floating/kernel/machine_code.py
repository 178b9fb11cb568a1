"""Where machine code is kept between two runs, and until when.

Numba keeps it beside a function's source, and notices a change in that one file only. Here it
lies in the user's cache folder, in a folder named after all that it is made from: every source
of the kernel, numba, Python and the processor. So a change anywhere in the kernel compiles all
of it anew, and another clone of the same sources compiles nothing.
"""

import logging
import os
import sys
import time
from collections.abc import Callable
from contextlib import suppress
from functools import cache
from hashlib import sha256
from pathlib import Path
from pickle import UnpicklingError
from shutil import rmtree
from typing import Any

import numba
from numba.core.caching import CompileResultCacheImpl, FunctionCache, _CacheLocator
from numba.core.registry import cpu_target
from platformdirs import user_cache_path

SOURCES = Path(__file__).parent

KEPT_FOR = 42 * 24 * 3600.0
"""[s] Six weeks: a branch that is taken up again within them compiles nothing."""

MOST_FOLDERS = 12
"""of 1.5 MB each. Somebody who works on the kernel leaves one behind with every change."""

UNREADABLE = (OSError, EOFError, UnpicklingError)
"""What a damaged file, or a disk, answers."""


class _Place(_CacheLocator):
    """Where a function's machine code lies, as numba asks for it."""

    def __init__(self, source: str) -> None:
        self._py_file = source  # numba names it in warnings

    def get_cache_path(self) -> str:
        return str(folder())

    def get_source_stamp(self) -> str:
        return ""  # the folder's name says it

    def get_disambiguator(self) -> str:
        return "kernel"

    @classmethod
    def from_function(cls, function: object, source: str) -> "_Place":  # noqa: ARG003 - numba's
        return cls(source)


class _Stored(CompileResultCacheImpl):
    _locator_classes: list[Any] = [_Place]  # noqa: RUF012 - numba reads it so


class MachineCode(FunctionCache):
    """A function's machine code on disk. A disk that does not read or write stops nothing."""

    _impl_class = _Stored

    def __init__(self, function: Callable[..., object]) -> None:
        super().__init__(function)  # type: ignore[no-untyped-call]  # numba's

    def load_overload(self, sig: object, target_context: object) -> object:
        """What was kept for arguments of these types, or None."""
        _mark_as_used()
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
            say_not_kept(getattr(fault, "strerror", None) or str(fault))
        else:
            remove_old_folders()


@cache
def folder() -> Path:
    """Where this kernel's machine code is kept on this machine."""
    processor = cpu_target.target_context.codegen().magic_tuple()
    made_by = numba.__version__, sys.implementation.cache_tag, processor
    found = sha256(repr(made_by).encode())
    for source in sorted(SOURCES.glob("*.py")):
        found.update(f"\n{source.name}\n".encode() + source.read_bytes())
    return user_cache_path("hullchange") / "compiled" / found.hexdigest()[:32]


@cache
def _mark_as_used() -> None:
    with suppress(OSError):
        os.utime(folder())


@cache
def say_not_kept(reason: str) -> None:
    """Says once why nothing is kept."""
    logging.getLogger(__name__).warning(
        "Compiled code cannot be kept in %s: %s. It is compiled again at every start.",
        folder(),
        reason,
    )


@cache
def remove_old_folders() -> None:
    """Removes what other kernels left: what is old, and the oldest beyond a number."""
    own, now = folder(), time.time()
    with suppress(OSError):
        used = [(other.stat().st_mtime, other) for other in own.parent.iterdir()]
        others = sorted(((at, other) for at, other in used if other != own), reverse=True)
        for rank, (at, other) in enumerate(others, start=1):
            if rank >= MOST_FOLDERS or now - at > KEPT_FOR:
                rmtree(other, ignore_errors=True)
