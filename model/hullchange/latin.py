"""Names in any script read in Latin letters: for keys, and for paper that has no other signs.

Source: Cyrillic much as BGN/PCGN, Greek much as ELOT 743, letter for letter; from memory.
"""

# ruff: noqa: RUF001 - letters of other scripts that look like Latin ones are meant here

import re
from unicodedata import combining, normalize

LATIN = {
    **dict(zip("абвгдеёзийклмнопрстуфыэіґўј", "abvgdeeziyklmnoprstufyeiguj", strict=True)),
    **dict(zip("αβγδεζηικλμνξοπρσςτυφω", "avgdeziiklmnxoprsstyfo", strict=True)),
    **{"ж": "zh", "х": "kh", "ц": "ts", "ч": "ch", "ш": "sh", "щ": "shch", "ъ": "", "ь": ""},
    **{"ю": "yu", "я": "ya", "ї": "yi", "є": "ye", "ђ": "dj", "љ": "lj", "њ": "nj", "ћ": "c"},
    **{"џ": "dz", "ѓ": "gj", "ќ": "kj", "ѕ": "dz", "θ": "th", "χ": "ch", "ψ": "ps"},
    **{"ß": "ss", "æ": "ae", "œ": "oe", "ø": "o", "đ": "d", "ð": "d", "þ": "th", "ł": "l"},
    **{"ħ": "h", "ı": "i", "ŋ": "ng", "ŧ": "t"},
}
"""Small letters that are more than a Latin letter with a mark on it."""


def latin(words: str) -> str:
    """Words in Latin letters; signs of other scripts stay.

    >>> latin("Åse, Été, Чайка, Αιγαίο, Østersjøen, 船")
    'Ase, Ete, Chayka, Aigaio, Ostersjoen, 船'
    """
    return "".join(map(_sign, normalize("NFC", words)))


def ascii_of(words: str) -> str:
    """The same for files of ASCII alone: what cannot be read is a question mark."""
    return latin(words).encode("ascii", "replace").decode()


def document_key(words: str, otherwise: str = "") -> str:
    """A name as a key of a document: small ASCII letters, digits, hyphens.

    Args:
        words: as typed.
        otherwise: the key where they have letters, and none of them can be read in Latin;
            where they have no letter or digit the key is empty.

    >>> document_key("Straße 7 / Łódź"), document_key("船", "boat"), document_key("!?", "boat")
    ('strasse-7-lodz', 'boat', '')
    """
    key = "-".join(re.findall("[a-z0-9]+", latin(words).lower()))
    return key or (otherwise if any(sign.isalnum() for sign in words) else "")


def _sign(sign: str) -> str:
    apart = sign if sign.lower() in LATIN else normalize("NFKD", sign)
    return "".join(_letter(part) for part in apart if not combining(part))


def _letter(letter: str) -> str:
    small = letter.lower()
    if small not in LATIN:
        return letter
    return LATIN[small] if letter == small else LATIN[small].capitalize()
