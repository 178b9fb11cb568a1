"""Signs in words: which end, which side."""


def trim_in_words(trim_mm: float) -> str:
    """Trim as an owner says it.

    >>> trim_in_words(97.2)
    '97 mm by the stern'
    >>> trim_in_words(-0.2)
    'level'
    """
    if abs(trim_mm) < 0.5:
        return "level"
    return f"{abs(trim_mm):.0f} mm by the {'stern' if trim_mm > 0 else 'bow'}"


def heel_in_words(heel_deg: float) -> str:
    """List as an owner says it.

    >>> heel_in_words(-0.31)
    '0.3 deg to port'
    """
    if abs(heel_deg) < 0.05:
        return "upright"
    return f"{abs(heel_deg):.1f} deg to {'starboard' if heel_deg > 0 else 'port'}"


def sinkage_in_words(sinkage_mm: float) -> str:
    """Sinkage as an owner says it.

    >>> sinkage_in_words(31.4)
    '31 mm deeper'
    """
    if abs(sinkage_mm) < 0.5:
        return "as deep"
    return f"{abs(sinkage_mm):.0f} mm {'deeper' if sinkage_mm > 0 else 'higher'}"
