"""Signs in words: which end, which side; rows of words as a table."""

from collections.abc import Iterable, Sequence

from hullchange.plain_words import id_in_words, unit_sign

TextRow = Sequence[str]


def boat_words(stage: str) -> str:
    """Which boat: as found, or refit."""
    return id_in_words(stage)


def trim_in_words(trim_mm: float) -> str:
    """Trim in an owner's words.

    >>> trim_in_words(97.2)
    '97 mm by the stern'
    >>> trim_in_words(-0.2)
    'level'
    """
    if abs(trim_mm) < 0.5:
        return "level"
    return f"{abs(trim_mm):.0f} mm by the {'stern' if trim_mm > 0 else 'bow'}"


def trim_effect_in_words(trim_mm: float) -> str:
    """What a weight does to the trim, in an owner's words.

    >>> trim_effect_in_words(-12.0), trim_effect_in_words(0.2)
    ('12 mm by the bow', 'no change')
    """
    return trim_in_words(trim_mm) if abs(trim_mm) >= 0.5 else "no change"


def heel_in_words(heel_deg: float) -> str:
    """List in an owner's words.

    >>> heel_in_words(-0.31)
    '0.3° to port'
    """
    if abs(heel_deg) < 0.05:
        return "upright"
    return f"{abs(heel_deg):.1f}° to {'starboard' if heel_deg > 0 else 'port'}"


def rise_in_words(rise_m: float) -> str:
    """What of her centre of gravity's height uses a margin up.

    >>> rise_in_words(0.0021), rise_in_words(-0.11)
    ('VCG may rise 2 mm', 'VCG must come down 110 mm')
    """
    if rise_m >= 0.0:
        return f"VCG may rise {1000.0 * rise_m:.0f} mm"
    return f"VCG must come down {-1000.0 * rise_m:.0f} mm"


def vanishing_in_words(vanishing_deg: float | None, digits: int = 0) -> str:
    """A vanishing angle as it stands in a table, with so many digits after the point.

    >>> vanishing_in_words(122.2), vanishing_in_words(0.0), vanishing_in_words(180.0)
    ('122°', 'does not right herself', 'rights from every heel')
    """
    if vanishing_deg is None:
        return "-"
    if vanishing_deg <= 0.0:
        return "does not right herself"
    return (
        "rights from every heel" if vanishing_deg >= 180.0 else f"{vanishing_deg:.{digits}f}°"
    )


def short_figure(value: float) -> str:
    """A figure in any unit to four digits, never as a power of ten.

    >>> short_figure(12191.7), short_figure(130.5), short_figure(0.09342), short_figure(-1e-15)
    ('12,192', '130.5', '0.09342', '0')
    """
    if abs(value) >= 1000.0:
        return f"{value:,.0f}"
    return f"{round(value, 6) + 0.0:.4g}"


def sinkage_in_words(sinkage_mm: float) -> str:
    """Sinkage in an owner's words.

    >>> sinkage_in_words(31.4)
    '31 mm deeper'
    """
    if abs(sinkage_mm) < 0.5:
        return "unchanged"
    return f"{abs(sinkage_mm):.0f} mm {'deeper' if sinkage_mm > 0 else 'higher'}"


def figure(value: float | None, digits: str, unit: str) -> str:
    """A value with its unit, or a dash."""
    return "-" if value is None else f"{value:{digits}}{unit_sign(unit)}"


def aligned_lines(rows: Sequence[TextRow]) -> Iterable[str]:
    """Rows as lines, their columns below one another: words to the left, the rest right."""
    widths = [max(len(row[k]) for row in rows) for k in range(len(rows[0]))]
    for row in rows:
        cells = [
            cell.ljust(width) if k == 0 else cell.rjust(width)
            for k, (cell, width) in enumerate(zip(row, widths, strict=True))
        ]
        yield "  ".join(cells).rstrip()
