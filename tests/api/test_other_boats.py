"""Boats unlike the demo, through every command and the server; all: try_other_boats.py."""

import pytest
from other_boats import faults_of


@pytest.mark.slow
@pytest.mark.parametrize("seed", [2, 5])
def test_nothing_falls_and_no_two_places_differ(seed, tmp_path):
    assert faults_of(seed, tmp_path) == []
