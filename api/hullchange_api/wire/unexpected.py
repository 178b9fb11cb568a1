"""Programming errors in background work, which must go on after them.

Elsewhere an unexpected error fails its request. Work that no request waits for (watching files,
delayed saving, making a cut pack) would stop for good, and no page would show why: it is done
`with Background`, which alone catches every exception.
"""

import logging
import traceback
from pathlib import Path
from types import TracebackType
from typing import Self

from hullchange.cache import Recent
from hullchange.errors import ModelError

_LOG = logging.getLogger("hullchange")
_LOGGED: Recent[str] = Recent(100)
"""Messages already logged: a bad file is read again and again until it changes."""


class Background:
    """Work that no request waits for: ``with`` it, an error ends the work and nothing else.

    Attributes:
        error: what ended it, or None.
        message: the same in a sentence, or empty.
    """

    def __init__(self, doing: str) -> None:
        """Begin it.

        Args:
            doing: as in `error_message`.
        """
        self._doing = doing
        self.error: Exception | None = None
        self.message = ""

    def __enter__(self) -> Self:
        """The work, to be asked for its error afterwards."""
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> bool:
        """Keep the error, unless the process is being ended."""
        if not isinstance(error, Exception):
            return False
        self.error, self.message = error, error_message(error, self._doing)
        return True


def error_message(error: BaseException, doing: str) -> str:
    """A refusal or system error as text; a programming error as one sentence, logged once.

    Args:
        error: a refusal, or an unexpected error.
        doing: what was being done, such as "reading dot.yaml".
    """
    if isinstance(error, ModelError | OSError):
        return getattr(error, "strerror", None) or str(error)
    last = traceback.extract_tb(error.__traceback__)[-1:]
    where = "".join(f", {Path(step.filename).name} line {step.lineno}" for step in last)
    sentence = (
        f"hullchange failed while {doing} ({type(error).__name__}{where}). This is a fault in "
        "the program, not your mistake: undo the last change, and report it."
    )
    if not _LOGGED.find(sentence):
        _LOGGED.keep(sentence, sentence)
        _LOG.error(sentence)
    return sentence
