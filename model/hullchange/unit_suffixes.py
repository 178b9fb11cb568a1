"""Units at the end of a key: which it has, and which key was meant by one in another unit."""

from collections.abc import Iterable

from hullchange.cache import cached

_FAMILIES: dict[str, dict[str, float]] = {
    "length": {"mm": 1e-3, "cm": 1e-2, "m": 1.0, "in": 0.0254, "inch": 0.0254, "ft": 0.3048},
    "mass": {"g": 1e-3, "kg": 1.0, "t": 1e3, "lb": 0.45359237, "lbs": 0.45359237},
    "volume": {"l": 1e-3, "m3": 1.0},
    "angle": {"deg": 1.0, "rad": 57.29577951308232},
    "area": {"mm2": 1e-6, "cm2": 1e-4, "m2": 1.0},
    "density": {"kg_m3": 1.0, "kg_l": 1e3, "t_m3": 1e3, "g_cm3": 1e3},
    "moment": {"kgm": 1.0},
    "coating": {"kg_m2": 1.0},
    "share": {"percent": 1.0},
    "energy": {"kwh": 1.0, "wh": 1e-3},
    "time": {"s": 1.0},
    "mass on immersion": {"kg_per_cm": 1.0},
    "moment on trim": {"kgm_per_cm": 1.0},
    "area under levers": {"m_rad": 1.0},
}
_ENDINGS = sorted(
    ((unit, family) for family, units in _FAMILIES.items() for unit in units),
    key=lambda ending: -len(ending[0]),
)
_SHOWN = {
    "kg_m3": "kg/m3",
    "kg_m2": "kg/m2",
    "kgm": "kg m",
    "percent": "%",
    "kwh": "kWh",
    "kg_per_cm": "kg/cm",
    "kgm_per_cm": "kg m/cm",
    "m_rad": "m rad",
}


def unit_of(key: str) -> str:
    """The unit a key ends in, as it is printed; "" if none.

    >>> [unit_of(key) for key in ("thickness_mm", "density_kg_m3", "count", "kg_per_cm")]
    ['mm', 'kg/m3', '', 'kg/cm']
    """
    _, unit, _ = _split(key)
    return _SHOWN.get(unit, unit)


def without_unit(key: str) -> str:
    """A key without its unit; "" if it is nothing else.

    >>> without_unit("trim_moment_kgm_per_cm"), without_unit("kg_per_cm"), without_unit("count")
    ('trim_moment', '', 'count')
    """
    return _split(key)[0]


def meant_key(key: str, known: Iterable[str]) -> str:
    """The known key that is the same but for its unit; "" if there is none.

    >>> meant_key("side_height_mm", ["side_plate_mm", "side_height_m"])
    'side_height_m'
    >>> meant_key("side_height", ["side_plate_mm", "side_height_m"])
    'side_height_m'
    """
    stem, unit, family = _split(key)
    for other in known:
        other_stem, other_unit, other_family = _split(other)
        if other_unit and other_stem == stem and (not unit or family == other_family):
            return other
    return ""


def in_unit_of(key: str, other: str, value: float) -> float:
    """The number given under one key in the unit of another of the same family.

    >>> in_unit_of("side_height_mm", "side_height_m", 580)
    0.58
    >>> [in_unit_of(f"length_{unit}", "length_m", 10) for unit in ("cm", "in", "ft")]
    [0.1, 0.254, 3.048]
    >>> [in_unit_of(f"mass_{unit}", "mass_kg", 10) for unit in ("g", "t", "lb")]
    [0.01, 10000.0, 4.53592]
    """
    _, unit, family = _split(key)
    _, wanted, _ = _split(other)
    return float(f"{value * _FAMILIES[family][unit] / _FAMILIES[family][wanted]:.6g}")


@cached(1024)
def _split(key: str) -> tuple[str, str, str]:
    """Stem, unit and family of unit; the longest unit counts."""
    for unit, family in _ENDINGS:
        if f"_{key}".endswith(f"_{unit}"):
            return f"_{key}".removesuffix(f"_{unit}").removeprefix("_"), unit, family
    return key, "", ""
