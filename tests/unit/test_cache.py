"""What is kept is kept by all that it depends on: names never stand for shapes."""

import random
from dataclasses import dataclass
from functools import partial

import numpy as np
import pytest
from cache_snapshot import CacheSnapshot, documents_with_one_change
from leaves import renamed, with_leaf
from refits import assessed, boat, demo_document, workboat_document

from hullchange.boat.profile import profile_of
from hullchange.cache import Cache, Recent, cached, content_digest, content_key
from hullchange.document.sections import DeckCamber, PlatingZone
from hullchange.errors import DocumentError

SEED, SAMPLE = 20_261_130, 8
BOATS = {"demo": (demo_document, "departure"), "workboat": (workboat_document, "swamped")}
STRAKE = {
    **{"kind": "hull_plate", "x_forward_m": 3.0, "x_aft_m": 4.0, "plate_mm": 5},
    **{"lower_line": "lower-chine", "upper_line": "upper-chine", "old_plate_mm": 4},
}


@pytest.mark.slow
@pytest.mark.parametrize("name", BOATS)
def test_changed_leaves_are_answered_as_from_nothing(name):
    plain, only = BOATS[name][0](), BOATS[name][1]
    before = CacheSnapshot(plain, only)
    sample = random.Random(SEED).sample(list(documents_with_one_change(plain)), SAMPLE)
    spoilt = {what: before.first_difference(other) for what, other in sample}
    assert {what: line for what, line in spoilt.items() if line} == {}


def test_the_profile_follows_the_keels_shape():
    def deepest(plain):
        view = profile_of(boat(plain), 5.0)
        keel = next(line.points_m for line in view.outlines if line.id == "keel")
        return min(z for _, z in keel)

    plain = demo_document()
    assert deepest(plain) == -1.85
    outline = [[2.75, -0.60], [3.75, -2.05], [6.75, -2.05]]
    steps = ("hull", "appendages", "keel", "outline_m")
    assert deepest(with_leaf(plain, steps, outline)) == -2.05


def test_levers_without_a_house_that_is_called_otherwise():
    first = workboat_document()
    second = renamed(first, "wheelhouse", "cabin")
    curves = [
        assessed(p, only="working").conditions[-1].righting_levers for p in (first, second)
    ]
    assert curves[0].gz_without_house_m == curves[1].gz_without_house_m
    assert curves[1].gz_without_house_m != curves[1].gz_m


def test_a_plate_between_lines_of_which_one_was_renamed():
    plain = demo_document()
    patched = with_leaf(plain, ("changes", "patch"), {"parts": {"strake": STRAKE}})
    boat(patched)
    lines = patched["hull"]["lines"]
    other = {("middle-chine" if n == "upper-chine" else n): line for n, line in lines.items()}
    with pytest.raises(DocumentError) as refusal:
        boat(with_leaf(patched, ("hull", "lines"), other))
    assert [fault.code for fault in refusal.value.faults] == ["line-missing"]


def test_a_question_sees_what_it_is_handed_and_nothing_else():
    thickness = 3.0
    with pytest.raises(AssertionError):
        Cache(lambda: thickness, 1)
    with pytest.raises(AssertionError):
        Cache(partial(np.add, 1), 1)


@dataclass(frozen=True)
class Pair:
    first: object
    second: object = None


@dataclass(frozen=True, eq=False)
class Lone:
    points: np.ndarray


@dataclass
class Loose:
    value: float


DIFFERENT = (
    *(1, 1.0, True, "1", b"1", None, 0.0, -0.0, (), ("",), (1,), ((1,),), {"a": 1}),
    *({"a": 1, "b": 2}, {"b": 2, "a": 1}, frozenset({1}), frozenset({1, 2})),
    *(np.zeros(2), np.zeros((2, 1)), np.zeros(2, np.float32), np.zeros(3), -np.zeros(2)),
    *(Pair(1), Pair(1, 1), Pair(Pair(1)), PlatingZone(thickness_mm=4)),
    *(
        DeckCamber(camber_m=0.1, at_half_breadth_m=1),
        DeckCamber(camber_m=1, at_half_breadth_m=1),
    ),
)


def test_contents_that_differ_are_told_apart():
    assert len({content_key(value) for value in DIFFERENT}) == len(DIFFERENT)
    assert len({content_digest(value) for value in DIFFERENT}) == len(DIFFERENT)


def test_equal_contents_are_one():
    assert content_key(Pair([1, np.ones(2)])) == content_key(Pair((1, np.ones(2))))
    assert content_key(PlatingZone(thickness_mm=4)) == content_key(
        PlatingZone(thickness_mm=4.0)
    )


def test_what_has_no_content_stands_for_itself_and_is_not_hashed():
    one, other = Lone(np.zeros(2)), Lone(np.zeros(2))
    assert content_key(one) == content_key(one) != content_key(other)
    with pytest.raises(TypeError):
        content_digest(one)


@pytest.mark.parametrize("value", [Loose(1.0), object(), print, {1, 2}])
def test_what_may_change_is_no_key(value):
    with pytest.raises(TypeError):
        content_key(value)


def test_values_that_were_not_used_for_longest_give_way():
    held = Recent(10, len)
    for word in ("four", "five5", "x"):
        held.keep(word, word)
    assert set(held.all()) == {"four", "five5", "x"}
    held.find("four")
    held.keep("two", "two")
    assert set(held.all()) == {"four", "x", "two"}
    held.keep("four", "4444")  # in the place of the other, not beside it
    assert held.find("x") == "x"
    held.keep("large", "larger than all the room")
    assert held.all() == {}


def test_none_is_an_answer_too():
    asked.clear()
    assert (_noted(1), _noted(1), _noted(1.0)) == (None, None, None)
    assert asked == [1, 1.0]


asked = []


@cached(4)
def _noted(number):
    asked.append(number)


def test_a_frozen_value_is_looked_through_once(monkeypatch):
    zone = PlatingZone(thickness_mm=4)
    dumped = []
    dump = PlatingZone.model_dump_json

    def counting(self, **how):
        dumped.append(self)
        return dump(self, **how)

    monkeypatch.setattr(PlatingZone, "model_dump_json", counting)
    assert content_key(Pair(zone)) == content_key(Pair(zone))
    assert len(dumped) == 1
    other = zone.model_copy(update={"thickness_mm": 5.0})
    assert content_key(other) != content_key(zone)
