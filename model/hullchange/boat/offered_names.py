"""Texts of a document that name something else in it, and are checked where that is built.

Forms offer choices for them as they do for ``document.pointers``.
"""

from itertools import product

from hullchange.document.pointers import Choices, Pointer
from hullchange.parts.house_shape import SIDE_HEIGHTS

PARTS = ("changes.*.parts.*", "existing.*")
HEIGHTS = (*SIDE_HEIGHTS, "deck_z_m", "coaming_top_z_m", "height_forward_m", "height_aft_m")
"""Dimensions of parts that something can rise with."""

_LINES = (Choices("hull.lines.*"),)
_HEIGHTS = tuple(Choices(f"{of}.{key}", "{path}") for of, key in product(PARTS, HEIGHTS))

OFFERED = (
    *(
        Pointer(f"{of}.{edge}", "a line of the hull", _LINES)
        for of, edge in product(PARTS, ("lower_line", "upper_line"))
    ),
    *(
        Pointer(f"{what}.*.rises_with.path", "a height of a part", _HEIGHTS)
        for what in ("changes.*.adds", "changes.*.moves", "openings")
    ),
)
"""What each may name is offered in the order of the document."""
