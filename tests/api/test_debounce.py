"""What is asked for again and again is done once, after the last asking."""

from threading import Event
from time import sleep

from hullchange_api.store.debounce import Debounced


def test_it_is_done_once_and_can_be_asked_for_again():
    done, times = Event(), []
    debounced = Debounced(lambda: (times.append(1), done.set()), 0.05)
    for _ in range(20):
        debounced.request()
        sleep(0.002)
    assert done.wait(10.0)
    assert len(times) == 1
    done.clear()
    debounced.request()
    assert done.wait(10.0)
    assert len(times) == 2


def test_cancelled_it_is_not_done_until_it_is_asked_for_anew():
    done = Event()
    debounced = Debounced(done.set, 0.05)
    debounced.request()
    debounced.cancel()
    assert not done.wait(0.3)
    debounced.request()
    assert done.wait(10.0)
