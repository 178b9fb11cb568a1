"""Exit statuses of the commands."""

from collections.abc import Iterable
from typing import Protocol

DONE, FAILED, REFUSED, STOPPED = 0, 1, 2, 130
"""Done; done, with findings of severity fail; input refused; stopped by Ctrl-C."""


class HasSeverity(Protocol):
    """A finding, of the model or of an answer."""

    @property
    def severity(self) -> str:
        """``fail``, ``warn`` or ``note``."""


def status_of(findings: Iterable[HasSeverity]) -> int:
    """``FAILED`` if any finding is a fail, else ``DONE``."""
    return FAILED if any(finding.severity == "fail" for finding in findings) else DONE
