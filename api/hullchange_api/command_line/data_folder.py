"""The data folder of a command, and what it holds about the refit that the command names."""

import argparse
from collections.abc import Iterator
from contextlib import closing, contextmanager
from pathlib import Path

from platformdirs import user_data_path

from hullchange.document.reading import document_of
from hullchange_api.command_line.refit_document import plain_given
from hullchange_api.store.refits import Refits
from hullchange_api.wire.review import ReviewStatus


def data_folder(given: argparse.Namespace) -> Path:
    """The folder given by ``--data``, else the user's data folder on this system."""
    return given.data or user_data_path("hullchange", appauthor=False)


@contextmanager
def refit_given(given: argparse.Namespace) -> Iterator[tuple[Refits, str]]:
    """The refits of the data folder, and the id of the one named by REFIT or FILE."""
    file = Path(given.refit) if Path(given.refit).is_file() else None
    with closing(Refits(data_folder(given), file)) as refits:
        yield refits, given.refit if file is None else refits.ids()[0]


def status_given(given: argparse.Namespace) -> ReviewStatus:
    """The review status of the document; unsigned if the data folder does not know its file."""
    from hullchange_api.review.status import status_of_file

    document = document_of(plain_given(given, option=None), given.file.parent)
    return status_of_file(data_folder(given), given.file, document)
