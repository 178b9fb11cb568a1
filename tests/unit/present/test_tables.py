"""The answer as text: what does not exist is a word."""

import re

from refits import capsizing_answer, demo_answer

from hullchange.present.tables import tables


def test_of_a_boat_upside_down_the_text_says_so_and_no_height():
    text = tables(capsizing_answer())
    first = [line for line in text.splitlines() if re.match(r"as surveyed +refit", line)]
    assert re.search(r"1\.06\d +- +- +-$", first[0])
    assert re.search(r"upside down .* -$", first[1])
    assert "does not right herself" in first[-2]
    assert " 180°" not in first[-2]


def test_figures_of_rules_are_never_powers_of_ten():
    assert not re.search(r"\de[+-]\d", tables(demo_answer()))
