"""Programming errors, where the server must outlive them.

Anywhere else an unforeseen error ends the request. Work that no request waits for (watching
files, saving a moment later, making a cut pack) would stop for good, without a word on any
page: there, and only there, every exception is caught and turned into `error_message`.
"""

import logging
import traceback
from pathlib import Path

from hullchange.cache import Recent
from hullchange.errors import ModelError

_LOG = logging.getLogger("hullchange")
_LOGGED: Recent[str] = Recent(100)
"""Messages logged already: a file that stays as it is is read again and again."""


def error_message(error: Exception, doing: str) -> str:
    """A refusal or system error in words; a programming error in one sentence, logged once.

    Args:
        error: a refusal, or an error that nobody foresaw.
        doing: what was being done, such as "reading dot.yaml".
    """
    if isinstance(error, ModelError | OSError):
        return getattr(error, "strerror", None) or str(error)
    last = traceback.extract_tb(error.__traceback__)[-1:]
    where = "".join(f", {Path(step.filename).name} line {step.lineno}" for step in last)
    sentence = (
        f"hullchange itself failed at {doing} ({type(error).__name__}{where}), which is a "
        "mistake of the program and not yours: take the last change back, and report it."
    )
    if not _LOGGED.find(sentence):
        _LOGGED.keep(sentence, sentence)
        _LOG.error(sentence)
    return sentence
