"""Mistakes of the program itself, where a server has to outlive them.

Anywhere else an error that nobody foresaw ends what was asked.  What runs by itself (the watch
of files, writing a moment later, the making of a pack) would be at an end for good, without a
word on any page: there, and there alone, every error is caught and told by `words_of`.
"""

import logging
import traceback
from pathlib import Path

from hullchange.errors import ModelError
from hullchange.memo import Recent

_LOG = logging.getLogger("hullchange")
_SAID: Recent[str] = Recent(100)
"""What was logged: a file that stays as it is is looked at again and again."""


def words_of(error: Exception, doing: str) -> str:
    """The words of a refusal or of the machine; a mistake in one sentence, logged once as well.

    Args:
        error: a refusal, or what nobody foresaw.
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
    if _SAID.found(sentence) is None:
        _SAID.keep(sentence, sentence)
        _LOG.error(sentence)
    return sentence
