"""Closed surfaces: what they weigh."""

import numpy as np
import pytest

from hullchange.geometry.surface import box, difference, intersection, joined, mass_properties


def test_several_bodies_are_weighed_together():
    whole = box(np.array([0.0, -1.0, 0.5]), np.array([4.0, 2.0, 1.5]))
    carved = difference(whole, box(np.array([1.0, 0.0, 1.0]), np.array([9.0, 9.0, 9.0])))
    body = joined((carved, box(np.array([6.0, 0.0, 0.0]), np.array([7.0, 1.0, 1.0]))))
    found = mass_properties(body, 7850.0)
    # 12 less a corner of 3 x 2 x 0.5, and a cube of 1 beside it
    assert found.volume == pytest.approx(10.0, rel=1e-12)
    assert found.mass == pytest.approx(78500.0, rel=1e-12)
    moment = 12.0 * 2.0 - 3.0 * 2.5 + 1.0 * 6.5
    assert found.centroid[0] == pytest.approx(moment / 10.0, rel=1e-12)


def test_a_box_is_closed_and_its_size():
    body = box(np.array([1.0, 2.0, 3.0]), np.array([2.0, 4.0, 6.0]))
    found = mass_properties(body, 1.0)
    assert found.volume == pytest.approx(6.0, rel=1e-14)
    assert found.centroid == pytest.approx((1.5, 3.0, 4.5), rel=1e-14)


def test_a_tool_that_was_used_before_cuts_like_a_new_one():
    def tool():
        return difference(box(np.zeros(3), np.ones(3)), box(np.full(3, 0.3), np.full(3, 2.0)))

    body = box(np.full(3, 0.2), np.array([1.5, 0.9, 0.8]))
    used = tool()
    cuts = [difference(body, used), intersection(body, used)]
    again = [difference(body, used), intersection(body, used)]
    fresh = [difference(body, tool()), intersection(body, tool())]
    assert [cut.key for cut in cuts] == [cut.key for cut in again] == [cut.key for cut in fresh]
