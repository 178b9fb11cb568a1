"""Parts tried before they are added, and what is offered where a part is refused."""

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

from hullchange.boat.boat import Boat, boat_of
from hullchange.boat.proposals import with_offers
from hullchange.cache import cached
from hullchange.document import reading
from hullchange.document.document import Document
from hullchange.document.lines_file import lines_file, with_lines
from hullchange.document.options import with_option, with_option_value
from hullchange.errors import DocumentError
from hullchange_api.store.working_copy import RefitState, WorkingCopy
from hullchange_api.wire.working_copy import PartToTry

DOCUMENTS_HELD = 8


def document_shown(state: RefitState, option: str | None, folder: str) -> Document:
    """The document of a state with an option applied."""
    return state.document if option is None else _with_option(state, option, folder)


@cached(DOCUMENTS_HELD)
def _with_option(state: RefitState, option: str, folder: str) -> Document:
    plain = with_option(state.plain, option)
    if lines_file(plain) == lines_file(state.plain):
        plain = with_lines(plain, state.document.hull)
    return reading.document_of(plain, Path(folder))


def boat_with_part(copy: WorkingCopy, part: PartToTry, option: str | None) -> Boat:
    """The boat as she would be with a part added; the working copy stays as it is.

    Raises:
        ModelError: whatever the document or the part is refused for, with offers.
    """
    state, folder = copy.state, copy.file.parent
    change = f"changes.{part.change}"
    plain = with_option_value(
        state.plain, option, f"{change}.parts.{part.name}", part.dimensions
    )
    if part.replaces:
        plain = with_option_value(plain, option, f"{change}.replaces", part.replaces)
    tried = RefitState(state.edit, plain, reading.document_of(plain, folder))
    document = document_shown(tried, option, str(folder))
    with offering(lambda: document):
        return boat_of(document)


@contextmanager
def offering(
    document: Callable[[], Document], before: Callable[[], Document] | None = None
) -> Iterator[None]:
    """Whatever is refused inside is refused with what would build instead.

    Args:
        document: that is built inside.
        before: as it was before an edit.
    """
    try:
        yield
    except DocumentError as error:
        raise with_offers(error, document(), before() if before else None) from error
