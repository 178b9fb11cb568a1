"""What is asked for again and again is done once, after the last asking."""

from threading import Event
from time import sleep

from hullchange_api.store.debounce import Later


def test_it_is_done_once_and_can_be_asked_for_again():
    done, times = Event(), []
    later = Later(lambda: (times.append(1), done.set()), 0.05)
    for _ in range(20):
        later.ask()
        sleep(0.002)
    assert done.wait(10.0)
    assert len(times) == 1
    done.clear()
    later.ask()
    assert done.wait(10.0)
    assert len(times) == 2


def test_cancelled_it_is_not_done_until_it_is_asked_for_anew():
    done = Event()
    later = Later(done.set, 0.05)
    later.ask()
    later.cancel()
    assert not done.wait(0.3)
    later.ask()
    assert done.wait(10.0)
