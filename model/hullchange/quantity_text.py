"""Lengths, masses and volumes as people write them, read exactly and written back.

Everything is worked in fractions and turned into a float once, so that 5-10-3 in feet, inches
and eighths and 1.787525 in metres are the same number to the last digit.
"""

import re
import unicodedata
from collections.abc import Iterable, Mapping
from fractions import Fraction
from types import MappingProxyType
from typing import Literal

from hullchange.errors import ModelError

QuantityKind = Literal["length", "mass", "volume"]
DecimalSign = Literal[".", ","]
INCH, FOOT = Fraction(254, 10_000), Fraction(3048, 10_000)  # [m] exact since 1959
POUND = Fraction(45_359_237, 100_000_000)  # [kg] exact since 1959
SHIPWRIGHTS = "ft-in-8"
"""The unit of a column of offsets written feet-inches-eighths."""

UNITS: Mapping[QuantityKind, Mapping[str, Fraction]] = MappingProxyType(
    {
        "length": {
            "m": Fraction(1),
            "cm": Fraction(1, 100),
            "mm": Fraction(1, 1000),
            "ft": FOOT,
            "in": INCH,
            SHIPWRIGHTS: FOOT,
        },
        "mass": {
            "kg": Fraction(1),
            "g": Fraction(1, 1000),
            "t": Fraction(1000),
            "lb": POUND,
            "oz": POUND / 16,
        },
        "volume": {
            "l": Fraction(1),
            "ml": Fraction(1, 1000),
            "m3": Fraction(1000),
            "us gal": 231 * (INCH * 10) ** 3,  # 231 cubic inches
            "imp gal": Fraction(454_609, 100_000),
        },
    }
)
"""Of each kind its units, in metres, kilograms and litres."""
OTHER_WORDS: Mapping[str, str] = MappingProxyType(
    {
        **dict.fromkeys(("metre", "metres", "meter", "meters"), "m"),
        **dict.fromkeys(("millimetre", "millimetres", "millimeter", "millimeters"), "mm"),
        **dict.fromkeys(("centimetre", "centimetres", "centimeter", "centimeters"), "cm"),
        **dict.fromkeys(("foot", "feet", "'"), "ft"),
        **dict.fromkeys(("inch", "inches", '"'), "in"),
        **dict.fromkeys(("ft-in-eighths", "feet-inches-eighths", "f-i-e"), SHIPWRIGHTS),
        **dict.fromkeys(("kilogram", "kilograms", "kilo", "kilos", "kgs"), "kg"),
        **dict.fromkeys(("tonne", "tonnes"), "t"),
        **dict.fromkeys(("lbs", "pound", "pounds"), "lb"),
        **dict.fromkeys(("litre", "litres", "liter", "liters", "ltr"), "l"),
        **dict.fromkeys(("usgal", "us gallon", "us gallons", "gal us"), "us gal"),
        **dict.fromkeys(("impgal", "imperial gallons", "uk gal", "gal imp"), "imp gal"),
    }
)
LARGEST: Mapping[QuantityKind, int] = MappingProxyType(
    {"length": 100, "mass": 200_000, "volume": 200_000}
)
"""[m], [kg], [l] beyond which a reading of a number is not what was meant."""
LONGEST_TEXT = 60
EXAMPLES: Mapping[QuantityKind, str] = MappingProxyType(
    {
        "length": "1.38 m, 1380 mm, 4' 6 3/8\" or 4-6-3 (feet-inches-eighths)",
        "mass": "125 kg, 0.125 t or 275 lb",
        "volume": "200 l, 53 US gal or 44 imp gal",
    }
)

_NUMBER = r"\d+(?:[.,]\d+)*|[.,]\d+"
_FRACTION = r"\d+\s*/\s*\d+"
_FEET_AND_INCHES = re.compile(
    rf"(?:(?P<feet>{_NUMBER})\s*(?:'|ft\b|feet\b|foot\b))?[\s-]*"
    rf"(?:(?P<inches>{_NUMBER})(?!\d*\s*/)[\s-]*)?(?P<part>{_FRACTION})?"
    r"\s*(?:\"|in\b|inch\b|inches\b)?"
)
_OFFSET = re.compile(r"(\d+)[-. ](\d+)[-. ](\d+)\s*([+-]?)")
_VALUE = re.compile(rf"({_NUMBER})\s*([^\d.,].*)?")
_VULGAR = re.compile(r"([\u00bc-\u00be\u2150-\u215e])")
_PRIME, _DOUBLE_PRIME, _SLASH = "\u2032", "\u2033", "\u2044"
_SIGNS = str.maketrans(
    {"−": "-", "\u2013": "-", _PRIME: "'", "\u2019": "'", _DOUBLE_PRIME: '"', "\u201d": '"'}
    | {_SLASH: "/"}
)


def length_of(text: str, unit: str = "", decimal: DecimalSign | None = None) -> float:
    r"""Length [m] of a text that may carry its own unit.

    Args:
        text: such as ``1380 mm``, ``1,38``, ``5' 10 3/8"``, ``5-10-3+`` (feet, inches, eighths
            and a sixteenth more).
        unit: of a bare number: ``m``, ``cm``, ``mm``, ``ft``, ``in`` or ``ft-in-8``.
        decimal: the decimal sign, where it is known.

    Raises:
        ModelError: ``not-a-quantity``, ``unit-missing``, ``unknown-unit``, ``number-unclear``
            (1.234 where that may be 1234).

    >>> [length_of(t, "m") for t in ("5-10-3", "5-10-3+", "-1-2-0", "0-0-4", "1,38", "138 cm")]
    [1.787525, 1.7891125, -0.3556, 0.0127, 1.38, 1.38]
    >>> [length_of(t) for t in ("5' 10 3/8\"", "5 ft 10.375 in", "10 1/16 in", "5'", "3/8\"")]
    [1.787525, 1.787525, 0.2555875, 1.524, 0.009525]
    """
    plain, sign = _plain(text, "length")
    found = _offset(plain, text, _unit(unit, "length") if unit else "")
    if found is None:
        found = _feet_and_inches(plain, text, decimal)
    if found is None:
        found = _with_unit(plain, text, "length", unit, decimal)
    return float(sign * found)


def mass_of(text: str, unit: str = "", decimal: DecimalSign | None = None) -> float:
    """Mass [kg] of a text that may carry its own unit.

    Args:
        text: such as ``125 kg``, ``1,2 t``, ``275 lb``.
        unit: of a bare number: ``kg``, ``g``, ``t``, ``lb`` or ``oz``.
        decimal: the decimal sign, where it is known.

    Raises:
        ModelError: ``not-a-quantity``, ``unit-missing``, ``unknown-unit``, ``number-unclear``.

    >>> mass_of("100 lb"), mass_of("1,5 t"), mass_of("12,345.6", "kg")
    (45.359237, 1500.0, 12345.6)
    """
    plain, sign = _plain(text, "mass")
    return float(sign * _with_unit(plain, text, "mass", unit, decimal))


def volume_of(text: str, unit: str = "", decimal: DecimalSign | None = None) -> float:
    """Volume [l] of a text that may carry its own unit.

    Args:
        text: such as ``200 l``, ``53 US gal``, ``0.2 m3``.
        unit: of a bare number: ``l``, ``ml``, ``m3``, ``US gal`` or ``imp gal``.
        decimal: the decimal sign, where it is known.

    Raises:
        ModelError: ``not-a-quantity``, ``unit-missing``, ``unknown-unit``, ``number-unclear``.

    >>> volume_of("10 US gal"), volume_of("10 imp gal"), volume_of("0,2 m³")
    (37.85411784, 45.4609, 200.0)
    """
    plain, sign = _plain(text, "volume")
    return float(sign * _with_unit(plain, text, "volume", unit, decimal))


def decimal_sign(texts: Iterable[str]) -> DecimalSign | None:
    """The decimal sign that a table of numbers shows by itself, None if it leaves it open.

    >>> decimal_sign(["1.234", "0,5"]), decimal_sign(["1.234"]), decimal_sign(["2,75", "1.5"])
    (',', None, None)
    """
    shown = {sign for text in texts for sign in (_shown_sign(text),) if sign}
    return shown.pop() if len(shown) == 1 else None


def known_unit(word: str, kind: QuantityKind = "length") -> str:
    """A unit as it is written here, "" if the word is none of that kind.

    >>> known_unit("Feet"), known_unit("MM"), known_unit("furlong"), known_unit("lbs", "mass")
    ('ft', 'mm', '', 'lb')
    """
    plain = " ".join(word.strip().lower().replace(".", "").split()).replace("m³", "m3")
    plain = OTHER_WORDS.get(plain, plain)
    return plain if plain in UNITS[kind] else ""


def _plain(text: str, kind: QuantityKind) -> tuple[str, int]:
    """The text in plain signs without its sign, and the sign."""
    if len(text) > LONGEST_TEXT:
        raise _not_a_quantity(text, kind)
    spaced = _VULGAR.sub(r" \1", text.translate(_SIGNS)).replace("''", '"')
    plain = unicodedata.normalize("NFKC", spaced).translate(_SIGNS).strip().lower()
    negative = plain.startswith("-")
    return plain.removeprefix("-").removeprefix("+").strip(), -1 if negative else 1


def _offset(plain: str, text: str, unit: str) -> Fraction | None:
    """Feet-inches-eighths [m]; points and spaces part them only in a column of that unit."""
    found = _OFFSET.fullmatch(plain)
    if found is None or (unit != SHIPWRIGHTS and plain.count("-") < 2):
        return _whole_offset(plain, text) if unit == SHIPWRIGHTS else None
    feet, inches, eighths = (int(digits) for digits in found.groups()[:3])
    if inches > 11 or eighths > 7:
        sentence = (
            f"{text.strip()!r} is not an offset in feet-inches-eighths: inches go up to 11 "
            "and eighths up to 7."
        )
        raise ModelError("not-a-quantity", sentence)
    sixteenth = {"+": 1, "-": -1, "": 0}[found[4]]
    return feet * FOOT + inches * INCH + Fraction(2 * eighths + sixteenth, 16) * INCH


def _whole_offset(plain: str, text: str) -> Fraction | None:
    if plain == "0":
        return Fraction(0)
    if re.fullmatch(_NUMBER, plain):
        sentence = (
            f"{text.strip()!r} is in a column of feet-inches-eighths: write all three, such "
            "as 5-10-3."
        )
        raise ModelError("not-a-quantity", sentence)
    return None


def _feet_and_inches(plain: str, text: str, decimal: DecimalSign | None) -> Fraction | None:
    """Feet and inches [m] where either is named; None for anything else."""
    found = _FEET_AND_INCHES.fullmatch(plain)
    is_named = re.search(r"['\"]|\b(ft|in|feet|foot|inch|inches)\b|\d(ft|in)", plain)
    if not plain or found is None or not is_named:
        return None
    total = Fraction(0)
    for name, of in (("feet", FOOT), ("inches", INCH)):
        if found[name]:
            total += _number(found[name], text, ("length", of), decimal) * of
    if found["part"]:
        top, bottom = (int(digits) for digits in found["part"].split("/"))
        if bottom == 0:
            raise _not_a_quantity(text, "length")
        total += Fraction(top, bottom) * INCH
    return total


def _with_unit(
    plain: str, text: str, kind: QuantityKind, unit: str, decimal: DecimalSign | None
) -> Fraction:
    """The value of a number and its unit, or the unit of its column."""
    found = _VALUE.fullmatch(plain)
    if found is None:
        raise _not_a_quantity(text, kind)
    written = (found[2] or "").strip()
    if re.search(r"\d(?<!m3)", written):
        raise _not_a_quantity(text, kind)
    if not written and not unit:
        sentence = f"{text.strip()!r} has no unit: write it, such as {EXAMPLES[kind]}."
        raise ModelError("unit-missing", sentence)
    of = UNITS[kind][_unit(written or unit, kind)]
    return _number(found[1], text, (kind, of), decimal) * of


def _unit(word: str, kind: QuantityKind) -> str:
    if kind == "volume" and word.strip().lower() in ("gal", "gallon", "gallons"):
        sentence = f"{word!r} could be US or imperial gallons: write US gal or imp gal."
        raise ModelError("unknown-unit", sentence)
    found = known_unit(word, kind)
    if not found:
        known = ", ".join(UNITS[kind])
        raise ModelError("unknown-unit", f"{word!r:.40} is not a unit of {kind}: use {known}.")
    return found


def _number(
    digits: str, text: str, meant: tuple[QuantityKind, Fraction], decimal: DecimalSign | None
) -> Fraction:
    """A number whose decimal sign is seen, known, or the only one that fits."""
    sign = decimal or _shown_sign(digits)
    marks = re.findall(r"[.,]", digits)
    if sign is None and marks:
        kind, of = meant
        as_thousands = Fraction(re.sub(r"[.,]", "", digits)) * of
        if as_thousands <= LARGEST[kind]:
            plain = re.sub("[.,]", "", digits)
            sentence = (
                f"{text.strip()!r} could be {digits.replace(',', '.')} or {plain}: write "
                f"{plain} or {digits}0, or choose the decimal sign."
            )
            raise ModelError("number-unclear", sentence)
        sign = "." if marks[0] == "." else ","
    whole, *parts = digits.split(sign) if sign else (digits,)
    if len(parts) > 1 or re.search(r"[.,]", "".join(parts)) or not _in_thousands(whole):
        raise _not_a_quantity(text, meant[0])
    return Fraction(f"{re.sub('[.,]', '', whole) or '0'}.{''.join(parts) or '0'}")


def _in_thousands(whole: str) -> bool:
    """Whether signs in the whole part, if any, stand before groups of three."""
    return re.fullmatch(r"\d*|\d{1,3}(?:\.\d{3})+|\d{1,3}(?:,\d{3})+", whole) is not None


def _shown_sign(text: str) -> DecimalSign | None:
    """The decimal sign of a number if it can be no mark of thousands."""
    digits = re.search(_NUMBER, text)
    marks = re.findall(r"[.,]", digits[0]) if digits else []
    if digits is None or not marks:
        return None
    last: DecimalSign = "." if marks[-1] == "." else ","
    if len(set(marks)) == 2:
        return last
    if len(marks) > 1:
        return "," if last == "." else "."
    whole, part = digits[0].split(last)
    is_plain = len(part) != 3 or len(whole) > 3 or whole in ("", "0") or whole.startswith("0")
    return last if is_plain else None


def _not_a_quantity(text: str, kind: QuantityKind) -> ModelError:
    sentence = f"{text.strip()!r:.60} is not a {kind}: write {EXAMPLES[kind]}."
    return ModelError("not-a-quantity", sentence)


def feet_and_inches(length: float) -> str:
    """A length [m] in feet, inches and sixteenths, rounded to the nearest sixteenth.

    >>> [feet_and_inches(v) for v in (1.787525, -0.3556, 0.0, 0.0127, 0.3048, 3.6575)]
    ['5′ 10 3/8″', '−1′ 2″', '0″', '1/2″', '1′', '12′']
    """
    sixteenths = round(Fraction(abs(length)) / INCH * 16)
    feet, rest = divmod(sixteenths, 192)
    inches, part = divmod(rest, 16)
    fraction = Fraction(part, 16)
    words = [str(inches)] if inches or not sixteenths else []
    words += [f"{fraction.numerator}/{fraction.denominator}"] if part else []
    in_inches = [f"{' '.join(words)}{_DOUBLE_PRIME}"] if words or not feet else []
    in_feet = [f"{feet}{_PRIME}"] if feet else []
    shown = " ".join([*in_feet, *in_inches])
    return f"−{shown}" if length < 0.0 and sixteenths else shown


def feet_inches_eighths(length: float) -> str:
    """A length [m] as shipwrights write offsets, to the nearest sixteenth.

    >>> [feet_inches_eighths(v) for v in (1.787525, 1.7891125, -0.3556, 0.3047)]
    ['5-10-3', '5-10-3+', '-1-2-0', '1-0-0']
    """
    sixteenths = round(Fraction(abs(length)) / INCH * 16)
    feet, rest = divmod(sixteenths, 192)
    inches, part = divmod(rest, 16)
    sign = "-" if length < 0.0 and sixteenths else ""
    return f"{sign}{feet}-{inches}-{part // 2}{'+' if part % 2 else ''}"


def in_unit(value: float, kind: QuantityKind, unit: str) -> float:
    """A length [m], mass [kg] or volume [l] in another unit of its kind.

    Args:
        value: in the unit of its kind [m], [kg] or [l].
        kind: what it is.
        unit: as in ``UNITS``, or a word for one.

    Raises:
        ModelError: ``unknown-unit``.

    >>> in_unit(45.359237, "mass", "lb"), in_unit(3.785411784, "volume", "US gal")
    (100.0, 1.0)
    """
    return float(Fraction(value) / UNITS[kind][_unit(unit, kind)])
