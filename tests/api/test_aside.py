"""A second process beside a command answers the same, or the first one does."""

import os

import pytest

from hullchange.errors import ModelError
from hullchange_api.processes import second_process as beside

two_cores = pytest.mark.skipif(
    len(os.sched_getaffinity(0)) < 2, reason="one core: nothing is answered beside"
)


@pytest.fixture(autouse=True)
def alone(monkeypatch):
    """As a command is, which has one thread; the tests may have more."""
    monkeypatch.setattr(beside.threading, "active_count", lambda: 1)


@two_cores
def test_the_answer_is_worked_out_in_another_process():
    assert beside.aside(os.getpid)() != os.getpid()


def test_where_there_are_threads_it_is_worked_out_here(monkeypatch):
    monkeypatch.setattr(beside.threading, "active_count", lambda: 2)
    assert beside.aside(os.getpid)() == os.getpid()


def test_a_refusal_is_said_here():
    def refuse():
        raise ModelError("too-tall", "It is too tall.")

    with pytest.raises(ModelError, match="too tall"):
        beside.aside(refuse)()


def test_what_comes_to_nothing_there_is_worked_out_here():
    here = os.getpid()
    assert beside.aside(lambda: here if os.getpid() == here else os._exit(3))() == here


def test_what_cannot_be_sent_is_worked_out_here():
    assert beside.aside(lambda: lambda: 7)()() == 7


@pytest.mark.parametrize("count", range(6))
def test_two_halves_come_back_in_order(count):
    assert beside.halved(lambda n: n * n, range(count)) == [n * n for n in range(count)]
