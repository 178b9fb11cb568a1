"""Lengths, masses and volumes read as people write them, and written back."""

import numpy as np
import pytest

from hullchange.errors import ModelError
from hullchange.quantity_text import (
    feet_and_inches,
    feet_inches_eighths,
    in_unit,
    length_of,
    mass_of,
    volume_of,
)


@pytest.mark.parametrize(
    ("text", "unit", "length"),
    [
        ("5-10-3", "ft-in-8", 1.787525),
        ("5 10 3", "ft-in-8", 1.787525),
        ("5' 10⅜\"", "", 1.787525),
        ("5\u2032-10 3/8\u2033", "", 1.787525),
        ("5' 10-3/8\"", "", 1.787525),
        ("5'10", "", 1.778),
        ("−0-3-2-", "", -0.0809625),
        ("0", "ft-in-8", 0.0),
        ("1.380,5 mm", "", 1.3805),
        ("1,380.5 mm", "", 1.3805),
        ("1 m", "mm", 1.0),
        ("١٢ cm", "", 0.12),
        (".5", "m", 0.5),
    ],
)
def test_a_length_is_read(text, unit, length):
    assert length_of(text, unit) == length


@pytest.mark.parametrize(
    ("read", "text", "unit", "code"),
    [
        (length_of, "5-12-3", "", "not-a-quantity"),
        (length_of, "5-10-8", "", "not-a-quantity"),
        (length_of, "5", "ft-in-8", "not-a-quantity"),
        (length_of, "1.234", "mm", "number-unclear"),
        (mass_of, "1,234", "kg", "number-unclear"),
        (length_of, "1380", "", "unit-missing"),
        (length_of, "2 furlongs", "", "unknown-unit"),
        (length_of, "125 kg", "", "unknown-unit"),
        (volume_of, "10 gal", "", "unknown-unit"),
        (length_of, "1/0 in", "", "not-a-quantity"),
        (length_of, "nan", "m", "not-a-quantity"),
        (length_of, "1e3", "m", "not-a-quantity"),
        (length_of, "1" * 61, "m", "not-a-quantity"),
        (length_of, "1.23.4567", "m", "not-a-quantity"),
    ],
)
def test_what_is_none_is_refused(read, text, unit, code):
    with pytest.raises(ModelError) as caught:
        read(text, unit)
    assert caught.value.code == code


def test_a_number_that_only_fits_one_way_is_not_asked_about():
    assert length_of("1.234", "m") == 1.234
    assert length_of("1,234", "m") == 1.234
    assert length_of("0,234", "mm") == 0.000234
    assert length_of("1.234", "mm", ",") == 1.234


@pytest.mark.parametrize("write", [feet_and_inches, feet_inches_eighths])
def test_what_is_written_is_read_again(write):
    draw = np.random.default_rng(3)
    for sixteenths in draw.integers(-40_000, 40_000, 300):
        length = float(sixteenths) * 0.0254 / 16
        assert length_of(write(length)) == pytest.approx(length, abs=1e-12)
        nearby = length + draw.uniform(-0.49, 0.49) * 0.0254 / 16
        assert write(nearby) == write(length)


def test_other_units_are_those_of_the_law():
    # Source: NIST Handbook 44, appendix C (memory): 1 lb, 1 US gal; 1 imp gal: Weights and
    # Measures Act 1985 (memory)
    assert mass_of("1 lb") == 0.45359237
    assert volume_of("1 us gal") == 3.785411784
    assert volume_of("1 imp gal") == 4.54609
    assert in_unit(mass_of("275 lb"), "mass", "lb") == 275.0
