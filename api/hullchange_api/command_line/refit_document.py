"""The refit that a command names, with its ``--set`` and ``--option``."""

import argparse

from hullchange.boat.boat import Boat, boat_of
from hullchange.document.document import Document
from hullchange.document.matching import PlainDocument
from hullchange.document.options import with_option, with_option_value
from hullchange.document.paths import assignment
from hullchange.document.reading import document_of, read_document


def boat_given(given: argparse.Namespace) -> Boat:
    """The boat, built."""
    return boat_of(document_given(given))


def document_given(given: argparse.Namespace) -> Document:
    """The document with the option applied."""
    return document_of(plain_given(given, given.option), given.file.parent)


def plain_given(given: argparse.Namespace, option: str | None) -> PlainDocument:
    """The document as plain values, with the command's settings and an option applied."""
    plain = read_document(given.file).plain
    for setting in given.settings:
        plain = with_option_value(plain, given.option, *assignment(setting))
    return with_option(plain, option)
