"""A second process beside a command answers the same, or the first one does."""

import os

import pytest

from hullchange.errors import ModelError
from hullchange_api.processes import second_process
from hullchange_api.processes.child import give_way
from hullchange_api.processes.second_process import on_two_cores, run_in_second_process

two_cores = pytest.mark.skipif(
    len(os.sched_getaffinity(0)) < 2, reason="one core: there is no second process"
)


@pytest.fixture(autouse=True)
def one_thread(monkeypatch):
    """As in a command; the tests may have more."""
    monkeypatch.setattr(second_process.threading, "active_count", lambda: 1)


@two_cores
def test_the_answer_is_worked_out_in_another_process():
    assert run_in_second_process(os.getpid)() != os.getpid()


def test_where_there_are_threads_it_is_worked_out_here(monkeypatch):
    monkeypatch.setattr(second_process.threading, "active_count", lambda: 2)
    assert run_in_second_process(os.getpid)() == os.getpid()


@pytest.mark.parametrize("system", ["darwin", "win32"])
def test_a_system_that_cannot_fork_safely_works_it_out_here(monkeypatch, system):
    monkeypatch.setattr(second_process.sys, "platform", system)
    monkeypatch.delattr(os, "fork")
    monkeypatch.delattr(os, "sched_getaffinity")
    assert run_in_second_process(os.getpid)() == os.getpid()
    assert on_two_cores(abs, [-1, -2, -3]) == [1, 2, 3]


def test_a_system_without_niceness_does_without(monkeypatch):
    monkeypatch.setattr("sys.platform", "win32")
    monkeypatch.delattr(os, "nice")
    give_way()


def test_a_refusal_is_raised_here():
    def refuse():
        raise ModelError("too-tall", "It is too tall.")

    with pytest.raises(ModelError, match="too tall"):
        run_in_second_process(refuse)()


def test_work_that_fails_there_is_done_here():
    here = os.getpid()
    answer = run_in_second_process(lambda: here if os.getpid() == here else os._exit(3))
    assert answer() == here


def test_an_answer_that_cannot_be_sent_is_worked_out_here():
    assert run_in_second_process(lambda: lambda: 7)()() == 7


@pytest.mark.parametrize("count", range(6))
def test_answers_of_two_processes_come_in_order(count):
    assert on_two_cores(lambda n: n * n, range(count)) == [n * n for n in range(count)]
