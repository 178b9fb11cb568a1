"""What a part may ask of the boat it is fitted to, without knowing how the hull was made."""

from typing import Protocol

from hullchange.geometry.frame import FloatArray


class Host(Protocol):
    """The surfaces a part is fitted to. All lengths [m] in the boat's frame; vectorised."""

    @property
    def key(self) -> str:
        """Hash of everything the answers depend on: equal keys, equal answers."""

    @property
    def fore_x(self) -> float:
        """x of the foremost point of the canoe body."""

    @property
    def stem_x(self) -> float:
        """x of the foremost point of the sheer, at the stem."""

    @property
    def transom_x(self) -> float:
        """x of the transom (the after end of the lines)."""

    def deck_z(self, x: FloatArray, y: FloatArray) -> FloatArray:
        """Height of the cambered deck at (x, y); beyond the sheer it is carried on."""

    def sheer(self, x: FloatArray) -> FloatArray:
        """(n, 3) points of the starboard sheer at stations x."""

    def bottom_z(self, x: FloatArray, y: FloatArray) -> FloatArray:
        """Height of the canoe body's bottom at (x, y), without keel and skeg."""

    def lines_up(self) -> tuple[str, ...]:
        """Names of the measured lines, from the centreline up to the sheer."""

    def line(self, name: str, x: FloatArray) -> FloatArray:
        """(n, 3) points of a measured line, starboard, at stations x.

        Raises:
            ModelError: ``line-missing``, ``station-off-hull``.
        """

    def sections(self, x: FloatArray) -> FloatArray:
        """(n, m, 2) half sections of the hull's outside at stations x (n,), starboard.

        Half-breadth and height from the centreline to the sheer; beyond the hull's ends those
        of the end.
        """

    def bottom_thickness(self, x: FloatArray, y: FloatArray) -> FloatArray:
        """Thickness (n,) of the bottom plating at (x, y); zero where it is not given."""

    def transom_outline(self) -> FloatArray:
        """(n, 3) after ends of the lines, starboard, from centreline to sheer."""
