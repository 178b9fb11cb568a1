"""A page to show to anybody: what it tells, and what of the refit is not in its bytes."""

import re
from copy import deepcopy
from functools import cache

from refits import assessed, barge_document, boat, capsizing_document, demo_document

from hullchange.document.yaml_text import parsed
from hullchange.present.show_page import show_page
from hullchange.start.first_document import first_document
from hullchange.start.proportions import FirstDimensions

NAMED = ("removes", "adds", "moves")


@cache
def secretive():
    """The demo with every name and note of ledger, survey and stock one can search for."""
    plain = deepcopy(demo_document())
    del plain["options"]
    renamed = {}
    for number, change in enumerate(plain["changes"].values()):
        change["note"] = f"secret-note-{number}"
        for group in NAMED:
            names = change.get(group, {})
            change[group] = {
                f"secret-{group}-{number}-{k}": one for k, one in enumerate(names.values())
            }
    renamed["secret-change"] = plain["changes"].pop("arch")
    plain["changes"] |= renamed
    plain["weights"] = {
        "secret-weight": plain["weights"]["keel-ballast"] | {"note": "secret-word"}
    }
    plain["survey"]["vcg"]["note"] = "secret-vcg"
    plain["stock"]["plates"] = {
        "secret-plate": plain["stock"]["plates"]["plate-3"] | {"price": 987.25}
    }
    plain["titles"] = {"secret-change": "secret-title"}
    return plain


def page(plain):
    return show_page(boat(plain), assessed(plain)).decode()


def test_nothing_of_the_ledger_or_of_notes_and_costs_is_in_the_file():
    found = re.sub(r'base64,[^"]*', "", page(secretive()))  # letters by chance
    assert "secret" not in found
    assert "987.25" not in found
    assert "price" not in found
    for mass in ("236", "268", "243"):  # of roof, rig and battery, in words
        assert f"{mass} kg" not in found
    assert "<script" not in found


def test_it_tells_how_she_floats_and_what_is_new():
    found = page(deepcopy(demo_document()))
    assert "112 mm by the stern (was 58 mm by the stern)" in found
    assert "about 110 kg heavier" in found
    assert re.search(r"GM 0\.99 ± 0\.0\d m", found)
    assert "least freeboard at the marks 1,025 mm" in found  # aft, to starboard
    assert "lists" not in found
    assert "Strength is not checked" in found
    assert "assumed" not in found
    assert "New: deckhouse, mast support, cockpit, transom extension, bow platform." in found
    assert found.count("<svg") == 1
    assert (
        found.count('<img alt="The refit from her port bow" src="data:image/png;base64,') == 1
    )
    assert "img-src data:" in found
    assert len(found) < 300_000
    assert "an aid to judgement, not an approval" in found


def test_a_boat_that_is_not_changed_is_not_said_to_be_heavier():
    found = page(barge_document(10.0, 3.0, 0.8, 1.8, 0.0))
    assert "heavier" not in found
    assert "(was " not in found
    assert "No new steel." in found


def test_a_boat_that_capsizes_is_said_not_to_stay_upright():
    found = page(deepcopy(capsizing_document()))
    assert "She does not stay upright." in found


def test_what_is_assumed_and_a_level_boat_are_called_so():
    sloop = FirstDimensions(
        "single-chine", 10.9, 9.3, 3.55, 9800.0, 1.3, (1.45, 1.0, 1.1), 2.3, "twin"
    )
    plain = parsed(first_document("Wren", sloop)).document()
    found = page(plain)
    assert "<span>level</span> · <span>weight unchanged</span>" in found
    assert "partly assumed from typical proportions: an aid to judgement" in found
    stone = {"mass_kg": 900, "at_m": [4.8, -1.3, 0.8], "from": "weighed"}
    plain["changes"] = {"stone": {"stage": "proposed", "adds": {"stone": stone}}}
    assert re.search(r"lists \d\.\d° to port", page(plain))
