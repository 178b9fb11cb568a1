"""A boat unlike the demo: every page opens, and shows what the server answers."""

import re

import pytest
from onpage import figure, wait_until_settled

PAGES = ("start", "stability", "ledger", "boat", "photograph", "cutting", "review", "print")
PAGES += ("guide", "float")
SHOWN = {
    "displacement": ("displacement_kg", 1.0),
    "trim": ("trim_mm", 1.0),
    "list": ("heel_deg", 0.1),
    "GM": ("gm_m", 0.01),
}
"""Label of a figure, its field, and the least step it is shown in."""


def test_every_page_opens_and_shows_the_answer(other_boat):
    page, plain = other_boat
    for name in PAGES:
        go_to(page, f"#/{name}")
        assert len(page.locator("#app").inner_text()) > 200
    at = page.evaluate("fetch('/api/refits').then((r) => r.json()).then((r) => r[0].id)")
    asked = f"/api/refits/{at}/revisions/working"
    answer = page.evaluate(f"fetch('{asked}').then((r) => r.json())")["assessment"]
    for condition in plain["conditions"]:
        go_to(page, f"#/float?condition={condition}")
        (row,) = [
            c for c in answer["conditions"] if (c["id"], c["stage"]) == (condition, "refit")
        ]
        for label, (key, step) in SHOWN.items():
            # shown rounded to what is known of it
            coarse = max(step, row["plus_minus"][key] / 2.0)
            assert number(figure(page, label)) == pytest.approx(abs(row[key]), abs=coarse), (
                condition,
                label,
            )


def go_to(page, hash):
    """Open a page of the viewer and wait for its figures."""
    page.evaluate(f"location.hash = '{hash}'")
    page.locator(".answer-figure").first.wait_for()
    wait_until_settled(page)


def number(text):
    """The first number of a figure's text, without its sign."""
    return float(re.search(r"[\d,]*\.?\d+", text)[0].replace(",", ""))
