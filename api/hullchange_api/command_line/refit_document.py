"""The refit that a command names, with its ``--set`` and ``--option``."""

import argparse

from hullchange.boat.boat import Boat, boat_of
from hullchange.boat.proposals import with_offers
from hullchange.document.document import Document
from hullchange.document.matching import PlainDocument
from hullchange.document.options import with_option, with_option_value
from hullchange.document.paths import assignment
from hullchange.document.reading import document_of, read_document
from hullchange.errors import DocumentError, ModelError, Offer


def boat_given(given: argparse.Namespace) -> Boat:
    """The boat, built."""
    return boat_of(document_given(given))


def offers_given(given: argparse.Namespace, error: DocumentError) -> tuple[Offer, ...]:
    """What would build where the command's file, or its ``--set``, has a part refused."""
    settings, option = getattr(given, "settings", []), getattr(given, "option", None)
    try:
        before = read_document(given.file)
        shown = argparse.Namespace(file=given.file, settings=settings, option=option)
        document = document_given(shown)
    except (ModelError, OSError):
        return ()
    return with_offers(error, document, before.document if settings else None).offers


def document_given(given: argparse.Namespace) -> Document:
    """The document with the option applied."""
    return document_of(plain_given(given, given.option), given.file.parent)


def plain_given(given: argparse.Namespace, option: str | None) -> PlainDocument:
    """The document as plain values, with the command's settings and an option applied."""
    plain = read_document(given.file).plain
    for setting in given.settings:
        plain = with_option_value(plain, given.option, *assignment(setting))
    return with_option(plain, option)
