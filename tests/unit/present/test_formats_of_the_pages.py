"""Numbers on the pages and on paper: a thousand, written here, read by the viewer's tests.

The pages round and sign numbers themselves. What Python writes for the same values stands in
``viewer/src/testing/formats.json``; ``HULLCHANGE_STORE_FORMATS=1`` writes it anew.
"""

import json
import os
import random
from decimal import Decimal
from pathlib import Path

from hullchange.present.words import (
    figure,
    heel_in_words,
    rise_in_words,
    short_figure,
    sinkage_in_words,
    trim_in_words,
    vanishing_in_words,
)

FILE = Path(__file__).parents[3] / "viewer/src/testing/formats.json"
COUNT = 1000
STEPS = (1.0, 0.1, 0.01, 0.001)
TYPED_MINUS, MINUS = "-", "−"
"""What a terminal writes, and a page."""


def on_a_page(text):
    return text.replace(TYPED_MINUS, MINUS)


def decimals(step):
    return STEPS.index(step)


def number(value, step):
    return on_a_page(figure(value, f"z,.{decimals(step)}f", "").rstrip())


def signed(value, step):
    text = on_a_page(figure(value, f"+z,.{decimals(step)}f", "").rstrip())
    return text if any(digit in text for digit in "123456789") else text.lstrip("+")


WORDS = {
    "number": (1e7, STEPS, number),
    "signed": (1e5, STEPS, signed),
    "trim": (999.0, (1.0,), lambda v, _: trim_in_words(v)),
    "heel": (90.0, (0.1,), lambda v, _: on_a_page(heel_in_words(v))),
    "sinkage": (999.0, (1.0,), lambda v, _: on_a_page(sinkage_in_words(v))),
    "rise": (999.0, (1.0,), lambda v, _: rise_in_words(v / 1000.0)),
    "vanishing": (200.0, (0.1,), lambda v, _: on_a_page(vanishing_in_words(v, 1))),
    "short": (1e6, (0.001,), lambda v, _: on_a_page(short_figure(v))),
}


def is_tie(value, step):
    """Whether a value lies half-way: paper rounds it to even, a page up."""
    return Decimal(value).scaleb(decimals(step)) % 1 in (Decimal("0.5"), Decimal("-0.5"))


def rows():
    """[how, value, step, text] of every value: of any size, typed ones, and nearly half-way."""
    chance, found = random.Random(7), []
    while len(found) < COUNT:
        how = list(WORDS)[len(found) % len(WORDS)]
        largest, steps, words = WORDS[how]
        step = chance.choice(steps)
        value = chance.choice((-1.0, 1.0)) * largest ** chance.uniform(-0.8, 1.0)
        if chance.random() < 0.5:
            # typed to one digit more than is shown, a five at its end half the time
            value = round(value, decimals(step)) + chance.choice((0.5, 0.1)) * step
            value = round(value, decimals(step) + 1)
        # a short figure is rounded to six decimals first
        is_shown = how != "short" or abs(value) >= 0.1
        if abs(value) <= largest and is_shown and not is_tie(value, step):
            found.append([how, value, step, words(value, step)])
    return found


def written():
    lines = ",\n".join(json.dumps(row, ensure_ascii=False) for row in rows())
    return f"[\n{lines}\n]\n"


def test_the_file_says_what_python_says():
    if os.environ.get("HULLCHANGE_STORE_FORMATS"):
        FILE.write_text(written(), encoding="utf-8")
    assert FILE.read_text(encoding="utf-8") == written()


def test_every_way_of_writing_is_in_it():
    assert {row[0] for row in rows()} == set(WORDS)
    texts = [row[3] for row in rows()]
    lies, signs = ("level", "upright", "unchanged", "by the bow"), ("°", "−", ",", "+")
    for seen in (*lies, "may rise", "must come", "every heel", *signs):
        assert any(seen in text for text in texts), seen
