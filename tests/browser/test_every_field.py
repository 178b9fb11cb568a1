"""Every leaf of the grammar edited on the Boat page and undone, without a reload."""

import pytest
from every_key import every_key_document, leaf_patterns, pattern_of
from fields import BoatPage, differing
from onpage import page_over

SECTIONS_BY_GROUP = {
    "survey": ("boat", "freeboards", "aboard", "rig", "person", "photographs", "trials"),
    "hull": ("lines", "deck", "keel", "tanks"),
    "parts": ("existing", "changes"),
    "loading": ("openings", "conditions", "targets", "options", "stock"),
}
KEYS_BY_GROUP = {
    "survey": (
        *("boat", "water", "allowances", "survey", "weights", "rig", "person", "trials"),
        "photographs",
    ),
    "hull": ("hull", "tanks", "voids"),
    "parts": ("existing", "changes"),
    "loading": (
        *("openings", "conditions", "reference_condition", "targets", "options"),
        *("stock", "cutting"),
    ),
}
NOT_EDITED = {
    "format": "fixed by the grammar",
    "hull.kind": "fixed by the grammar",
    "hull.appendages.*.top": "fixed by the grammar",
    "changes.*.parts.*.kind": "a part of another kind is another part",
    "launch": "not there yet",
    "assumed.*": "follows from what is entered",
    "titles.*": "names are given where the thing itself is",
}


@pytest.fixture
def boat_page(tmp_path, chromium):
    """The Boat page over a boat with every key of the grammar."""
    with page_over(every_key_document(), tmp_path, chromium, refusals=True) as page:
        page.locator(".answer-figure").first.wait_for()
        yield BoatPage(page, "other")


def what_it_edits(control):
    """The pattern of a field; of several numbers at a path which of them; of ticks any."""
    several = control.n % control.columns if control.columns else control.n
    return (
        pattern_of(control.path.split(".")),
        0 if control.kind == "tick" else several,
        control.columns > 0,
    )


def is_second_row(control):
    """The ends of a table are often fixed."""
    return control.columns > 0 and control.n // control.columns == 1


def walk(boat_page, above=""):
    """Edit every field that is new, undo, and do the same in every named thing."""
    new = {}
    for control in boat_page.controls():
        if control.path.startswith(above) and what_it_edits(control) not in boat_page.done:
            first = new.get(what_it_edits(control), control)
            new[what_it_edits(control)] = control if is_second_row(control) else first
    edit_and_undo(boat_page, new)
    for entry in boat_page.entries(above):
        boat_page.turn(entry)
        walk(boat_page, entry)
        assert boat_page.is_open(entry)
        boat_page.turn(entry)


def edit_and_undo(boat_page, controls):
    """Each gets another value, seen in the document; then all are undone."""
    if not controls:
        return
    before = boat_page.document()
    taken = [key for key, control in controls.items() if boat_page.edit(control)]
    steps_changed = list(differing(before, boat_page.document()))
    assert len(steps_changed) >= len(taken)
    boat_page.edited.update(pattern_of(steps) for steps in steps_changed)
    boat_page.done.update(taken)
    boat_page.undo(len(taken))
    assert boat_page.document() == before


VCG = {"height": "0.1", "±": "0.05", "from where": "guessed", "note": "by feel"}
FRESH = {"by name": "fresh"}
INSTEAD = {
    "survey": (
        ("boat", "", "water by name instead", 0, FRESH),
        ("freeboards", "", "water by name instead", 0, FRESH),
        ("freeboards", "", "water by name instead", 1, FRESH),
        ("freeboards", "", "give VCG, not measured on this boat instead", 0, VCG),
    ),
    "hull": (),
    "parts": (),
    "loading": (
        ("conditions", "conditions.home", "add water", 0, {"water": "by name"} | FRESH),
    ),
}
"""Section, named thing, button, which of them, and what is filled in: what excludes another."""


def give_instead(boat_page, section, entry, words, which, answers):
    """One of what excludes each other in place of the other, and undo."""
    boat_page.go(section)
    if entry:
        boat_page.turn(entry)
    before = boat_page.document()
    assert boat_page.use(words, answers, which).ok
    steps_changed = differing(before, boat_page.document())
    boat_page.edited.update(pattern_of(steps) for steps in steps_changed)
    boat_page.undo(1)
    assert boat_page.document() == before


def test_every_key_of_the_grammar_belongs_to_a_group():
    known = {key for keys in KEYS_BY_GROUP.values() for key in keys}
    others = {leaf.split(".")[0] for leaf in leaf_patterns()} - known
    assert others == {"format", "launch", "assumed", "titles"}


@pytest.mark.parametrize("group", SECTIONS_BY_GROUP)
def test_every_leaf_is_edited_and_undone(boat_page, group):
    for section in SECTIONS_BY_GROUP[group]:
        boat_page.go(section)
        for line in boat_page.page.locator(".lines-choice .segments button").all():
            line.click()
            walk(boat_page)
        walk(boat_page)
    for place in INSTEAD[group]:
        give_instead(boat_page, *place)
    keys = KEYS_BY_GROUP[group]
    leaves = {leaf for leaf in leaf_patterns() if leaf.split(".")[0] in keys}
    assert leaves - boat_page.edited - set(NOT_EDITED) == set(), boat_page.refused
