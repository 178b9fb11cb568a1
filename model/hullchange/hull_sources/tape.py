"""Points of a hull by tape distances from marks of known place."""

from collections import defaultdict
from dataclasses import dataclass
from types import MappingProxyType

import numpy as np

from hullchange.errors import ModelError
from hullchange.geometry.frame import FloatArray
from hullchange.hull.lines import LineInput, LineKind
from hullchange.hull_sources.found import FoundLines, NotUnderstood
from hullchange.hull_sources.points import (
    BLANKS,
    TableAsked,
    in_order,
    is_centreline,
    line_kind,
    line_name,
    lines_of_table,
    missing_lines,
)
from hullchange.hull_sources.table_text import PastedTable, table_of, unit_of_heading
from hullchange.quantity_text import decimal_sign, length_of
from hullchange.units import mm_of_m

TAPE_SD = 0.005  # [m] of one distance; common practice, no source
IN_LINE = 0.08  # spread of the marks across their line, as a share of that along it
DISAGREE = 4.0  # standard deviations by which distances may miss a point
TOO_FAR_OFF = 10.0  # standard deviations of the tape beyond which a point is hardly fixed
STEPS = 25  # of the search for a point; it ends in fewer


@dataclass(frozen=True, eq=False)
class Fix:
    """A point by distances.

    Attributes:
        place: (3,) [m].
        error: [m] one standard deviation across and up, from the tape's and how the marks lie.
        misfit: [m] root mean square of what the distances miss it by.
        mirrored: (3,) [m] the other place that fits as well, None if there is none.
    """

    place: FloatArray
    error: float
    misfit: float
    mirrored: FloatArray | None


def require_spread(marks: FloatArray) -> None:
    """Refuse marks that leave points open.

    Args:
        marks: (k, 3) [m].

    Raises:
        ModelError: ``marks-in-line``, ``too-few-marks``.
    """
    if len(marks) < 3:
        sentence = (
            f"At least three marks are needed to fix a point by tape; there are {len(marks)}."
        )
        raise ModelError("too-few-marks", sentence)
    along, across, _ = np.linalg.svd(marks - marks.mean(axis=0), compute_uv=False)
    if across < IN_LINE * along:
        sentence = (
            "The marks lie in a line, so distances from them fix no point: move one of them "
            "sideways by a third of the row's length, or up a post."
        )
        raise ModelError("marks-in-line", sentence)


def fixed(marks: FloatArray, distances: FloatArray, tape_sd: float = TAPE_SD) -> Fix:
    """The point at distances from marks, by least squares.

    It lies between the centreline and the marks and above the lowest of them, where that
    decides between a place and its mirror image in the marks' plane.

    Args:
        marks: (k, 3) [m], k >= 3, not in a line.
        distances: (k,) [m].
        tape_sd: [m] one standard deviation of a distance.
    """
    middle = marks.mean(axis=0)
    normal = np.linalg.svd(marks - middle)[2][-1]
    foot = _foot(marks, distances)
    height = float(np.sqrt(max((distances**2).mean() - _square(marks - foot), 0.01)))
    found = [_searched(marks, distances, foot + side * height * normal) for side in (1.0, -1.0)]
    found.sort(key=lambda p: _rank(p, marks, distances, tape_sd))
    best, other = found
    left = distances - np.linalg.norm(marks - best, axis=1)
    away = (best - marks) / np.maximum(np.linalg.norm(best - marks, axis=1), 1e-9)[:, None]
    spread = np.linalg.pinv(away.T @ away, rcond=1e-9) * tape_sd**2
    is_apart = float(np.linalg.norm(best - other)) > TOO_FAR_OFF * tape_sd
    open_still = is_apart and _rank(other, marks, distances, tape_sd)[:2] == (False, False)
    return Fix(
        best,
        float(np.sqrt(max(spread[1, 1], spread[2, 2]))),
        float(np.sqrt(np.mean(left**2))),
        other if open_still else None,
    )


def _square(away: FloatArray) -> float:
    return float((away**2).sum(axis=1).mean())


def _foot(marks: FloatArray, distances: FloatArray) -> FloatArray:
    """The point (3,) from differences of squared distances; in the marks' plane, if any."""
    rows = 2.0 * (marks[1:] - marks[0])
    squares = (marks**2).sum(axis=1) - distances**2
    found = np.linalg.lstsq(rows, squares[1:] - squares[0] - rows @ marks[0], rcond=0.02)[0]
    return np.asarray(marks[0] + found)


def _searched(marks: FloatArray, distances: FloatArray, start: FloatArray) -> FloatArray:
    point = start
    for _ in range(STEPS):
        away = point - marks
        length = np.maximum(np.linalg.norm(away, axis=1), 1e-6)
        step = np.linalg.lstsq(away / length[:, None], distances - length, rcond=1e-6)[0]
        step *= min(1.0, 1.0 / max(float(np.linalg.norm(step)), 1e-12))
        point = point + step
        if float(np.linalg.norm(step)) < 1e-9:
            break
    return point


def _rank(
    point: FloatArray, marks: FloatArray, distances: FloatArray, tape_sd: float
) -> tuple[bool, bool, float]:
    """Whether it misses its distances, whether it is no place for a hull, and by how much."""
    off = float(np.sqrt(np.mean((np.linalg.norm(marks - point, axis=1) - distances) ** 2)))
    margin = TOO_FAR_OFF * tape_sd
    odd = (
        point[1] < -margin
        or point[1] > marks[:, 1].max() + margin
        or point[2] < marks[:, 2].min() - margin
    )
    return off > DISAGREE * tape_sd, bool(odd), off


def lines_by_tape(
    marks_text: str,
    distances_text: str,
    asked: TableAsked | None = None,
    tape_sd: float = TAPE_SD,
) -> FoundLines:
    """Lines by a table of marks and a table of distances to each point.

    Args:
        marks_text: columns mark, x, y and z, in any order and unit; marks to starboard.
        distances_text: columns line, kind if wanted, and one headed by each mark's name; a
            cell left empty is a distance that was not taken.
        asked: unit and decimal sign of both, where they do not say it.
        tape_sd: [m] one standard deviation of a distance.

    Raises:
        ModelError: ``too-few-marks``, ``marks-in-line``, ``no-heading``; those of a table.
    """
    options = asked or TableAsked()
    known = lines_of_table(marks_text, TableAsked(options.unit, (), options.decimal))
    marks = {line.name: np.array(line.points[0]) for line in known.lines}
    require_spread(np.array(list(marks.values())))
    table = table_of(distances_text)
    read = _Distances(marks, options, table)
    points: dict[str, list[Fix]] = defaultdict(list)
    for row, name, given in read.rows():
        fix = _fix_of(row, given, (marks, tape_sd), read)
        if fix is not None:
            points[name].append(fix)
    if not points:
        raise ModelError("not-a-lines-table", "No row has three readable distances.")
    return _found(points, read, known.not_understood, tape_sd)


def _fix_of(
    row: int,
    given: dict[str, float],
    by: tuple[dict[str, FloatArray], float],
    read: "_Distances",
) -> Fix | None:
    marks, tape_sd = by
    used = np.array([marks[name] for name in given]).reshape(-1, 3)
    try:
        require_spread(used)
    except ModelError as error:
        read.trouble.append(NotUnderstood(row, "all", "", error.sentence))
        return None
    fix = fixed(used, np.array(list(given.values())), tape_sd)
    if fix.misfit > DISAGREE * tape_sd:
        sentence = (
            f"The distances disagree by {mm_of_m(fix.misfit):.0f} mm: measure this point again."
        )
        read.trouble.append(NotUnderstood(row, "all", "", sentence))
        return None
    if fix.mirrored is not None:
        read.notes.append(
            f"Row {row} fits at {_words(fix.place)} and at {_words(fix.mirrored)}: the first "
            "is used; a distance from one more mark, out of the plane of the others, would "
            "decide."
        )
    return fix


def _words(place: FloatArray) -> str:
    return "x {:.2f}, y {:.2f}, z {:.2f} m".format(*place)


class _Distances:
    """Rows of a table of distances, and what was not understood of them."""

    def __init__(
        self, marks: dict[str, FloatArray], options: TableAsked, table: PastedTable
    ) -> None:
        self.trouble: list[NotUnderstood] = []
        self.notes: list[str] = []
        self.kinds: dict[str, LineKind] = {}
        self._table, self._unit = table, options.unit
        _, head = table.rows[0]
        self._head = head
        names = [line_name(heading) for heading in head]
        units = {k: unit_of_heading(heading) for k, heading in enumerate(head)}
        bare = [n.removesuffix(f"-{units[k]}") if units[k] else n for k, n in enumerate(names)]
        self._marks = {k: name for k, name in enumerate(bare) if name in marks}
        self._units = units
        if "line" not in bare or not self._marks:
            known = ", ".join(marks)
            sentence = (
                "Which column is which? The first row must name line and the marks "
                f"({known}), in any order."
            )
            raise ModelError("no-heading", sentence)
        self._line = bare.index("line")
        self._kind = bare.index("kind") if "kind" in bare else None
        cells = [cell for _, fields in table.rows for cell in fields]
        self._decimal = options.decimal or decimal_sign(cells)

    def rows(self) -> list[tuple[int, str, dict[str, float]]]:
        """Number, line and distance [m] from each mark, of every row."""
        return [
            (number, name, self._distances(number, fields))
            for number, fields in self._table.rows[1:]
            for name in (self._name(number, fields),)
            if name
        ]

    def _name(self, number: int, fields: list[str]) -> str:
        name = line_name(fields[self._line]) if self._line < len(fields) else ""
        if not name:
            sentence = "The line's name is missing."
            self.trouble.append(NotUnderstood(number, self._head[self._line], "", sentence))
        kind = fields[self._kind] if self._kind is not None and self._kind < len(fields) else ""
        self.kinds.setdefault(name, line_kind(name, kind))
        return name

    def _distances(self, number: int, fields: list[str]) -> dict[str, float]:
        found = {}
        for k, mark in self._marks.items():
            text = fields[k].strip() if k < len(fields) else ""
            if text.lower() in BLANKS:
                continue
            try:
                found[mark] = abs(length_of(text, self._units[k] or self._unit, self._decimal))
            except ModelError as error:
                cell = NotUnderstood(number, self._head[k].strip(), text, error.sentence)
                self.trouble.append(cell)
        return found


def _found(
    points: dict[str, list[Fix]],
    read: _Distances,
    of_marks: tuple[NotUnderstood, ...],
    tape_sd: float,
) -> FoundLines:
    lines, errors = [], {}
    for name, fixes in points.items():
        ordered = sorted(fixes, key=lambda fix: float(fix.place[0]))
        is_centre = is_centreline(name)
        places = tuple(
            (float(x), 0.0 if is_centre else max(float(y), 0.0), float(z))
            for x, y, z in (fix.place for fix in ordered)
        )
        lines.append(LineInput(name, read.kinds[name], places))
        errors[name] = np.array([fix.error for fix in ordered])
    every = np.concatenate(list(errors.values()))
    usual = float(np.sqrt(np.mean(every**2)))
    worth = (
        f"With a tape accurate to ±{mm_of_m(tape_sd):.0f} mm these marks fix a point to "
        f"±{mm_of_m(usual):.0f} mm across and up, the worst to ±{mm_of_m(every.max()):.0f} mm."
    )
    if every.max() > TOO_FAR_OFF * tape_sd:
        worth += " For better accuracy put a mark further out or up a post."
    in_rank = in_order(tuple(lines))
    return FoundLines(
        "tape",
        in_rank,
        usual,
        worth,
        MappingProxyType(errors),
        tuple(read.notes),
        missing_lines(in_rank),
        (*of_marks, *sorted(read.trouble, key=lambda cell: cell.row)),
    )
