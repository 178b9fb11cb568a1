"""Programming errors in background work, which must go on after them.

Elsewhere an unexpected error fails its request. Work that no request waits for (watching files,
delayed saving, making a cut pack) would stop for good, and no page would show why: there, and
only there, every exception is caught and turned into an `error_message`.
"""

import logging
import traceback
from pathlib import Path

from hullchange.cache import Recent
from hullchange.errors import ModelError

_LOG = logging.getLogger("hullchange")
_LOGGED: Recent[str] = Recent(100)
"""Messages already logged: a bad file is read again and again until it changes."""


def error_message(error: Exception, doing: str) -> str:
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
