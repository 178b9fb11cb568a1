"""Pages hear of what changes, by others or by hand; no longer than they may."""

import asyncio
from concurrent.futures import ThreadPoolExecutor
from types import SimpleNamespace

import pytest
from server_process import waited

from hullchange_api.store.watch import Watch
from hullchange_api.working_copy import events
from hullchange_api.working_copy.events import Events

MOTOR = "changes.drive.adds.motor.mass_kg"


def test_a_file_that_changed_is_taken_up_without_being_asked(page):
    refits = page.client.app.state.copies.refits
    heard = []
    refits.on_change = lambda *arguments: heard.append(arguments)
    watch = Watch(refits)
    watch.check()
    page.put({MOTOR: 55})
    page.saved()
    watch.check()
    file = page.copy.file
    file.write_text(file.read_text().replace("mass_kg: 140", "mass_kg: 150"))
    watch.check()
    assert heard == [("dot", 2), ("dot", 3)]
    adds = page.copy.state.plain["changes"]["drive"]["adds"]
    assert adds["motor"]["mass_kg"] == 55


def test_a_file_that_is_broken_or_gone_is_waited_for(page):
    refits = page.client.app.state.copies.refits
    watch, file = Watch(refits), page.copy.file
    text, troubles, heard = file.read_text(), [], []
    refits.on_file_trouble = heard.append
    for wrong in ("boat: [", None, text.replace("mass_kg: 140", "mass_kg: 160")):
        file.unlink() if wrong is None else file.write_text(wrong)
        watch.check()
        troubles.append(page.copy.trouble)
    assert page.copy.state.edit == 2
    assert "has an error and was not loaded" in troubles[0]
    assert troubles[1].startswith("refit.yaml is gone: deleted, moved or renamed.")
    assert troubles[2] == ""
    assert heard == ["dot", "dot", "dot"]
    watch.start()
    watch.close()


def test_a_file_that_is_gone_is_reported_at_once_and_written_anew_with_the_next_edit(page):
    watch, file = Watch(page.client.app.state.copies.refits), page.copy.file
    text = file.read_text()
    file.unlink()
    watch.check()
    answer = page.read().json()
    assert "is gone" in answer["trouble"]
    assert not answer["saved"]
    file.write_text(text)  # put back as it was
    watch.check()
    assert page.read().json()["trouble"] == ""
    file.unlink()
    watch.check()
    page.put({MOTOR: 55})
    assert "55" in page.saved()
    assert page.read().json()["trouble"] == ""


def test_a_mistake_of_the_program_is_reported_and_the_watch_goes_on(page, monkeypatch, caplog):
    refits = page.client.app.state.copies.refits
    watch, file, heard = Watch(refits), page.copy.file, []
    refits.on_file_trouble = heard.append
    text = file.read_text()

    def slip(*_):
        return [][1]

    with monkeypatch.context() as slipping:
        slipping.setattr("hullchange_api.store.working_copy.reading.read_document", slip)
        file.write_text(text.replace("mass_kg: 140", "mass_kg: 150"))
        watch.check()
        trouble = page.read().json()["trouble"]
        watch.check()
        page.read()
    assert "hullchange failed while reading refit.yaml (IndexError, test_watch.py" in trouble
    assert "has an error and was not loaded" in trouble
    assert heard == ["dot"]
    assert [record.levelname for record in caplog.records] == ["ERROR"]
    assert "\n" not in caplog.records[0].message
    file.write_text(text.replace("mass_kg: 140", "mass_kg: 160"))
    watch.check()
    assert page.read().json()["trouble"] == ""
    assert page.copy.state.edit == 2


def test_one_boat_that_cannot_be_looked_at_leaves_the_others_watched(page, monkeypatch, caplog):
    refits = page.client.app.state.copies.refits
    broken = SimpleNamespace(
        file=page.copy.file.with_name("other.yaml"), load_changed_file=lambda: 1 / 0
    )
    monkeypatch.setattr(refits, "open_copies", lambda: (broken, page.copy))
    watch, text = Watch(refits), page.copy.file.read_text()
    page.copy.file.write_text(text.replace("mass_kg: 140", "mass_kg: 150"))
    watch.start()
    assert waited(lambda: page.copy.state.edit == 2)
    watch.close()
    assert "looking at other.yaml (ZeroDivisionError" in caplog.text


def test_an_edit_that_cannot_be_written_by_a_mistake_is_reported(page, monkeypatch):
    with monkeypatch.context() as slipping:
        slipping.setattr("hullchange_api.store.working_copy.edited_text", lambda *_: [][1])
        page.put({MOTOR: 55})
        page.copy.save()
        trouble = page.read().json()["trouble"]
    assert "hullchange failed while writing refit.yaml (IndexError" in trouble
    page.put({MOTOR: 56})
    page.copy.save()
    assert page.read().json()["trouble"] == ""
    assert "56" in page.copy.file.read_text()


def done_apart(work):
    """What a coroutine returns, run in a thread: this one's loop may drive a browser."""
    with ThreadPoolExecutor(1) as apart:
        return apart.submit(asyncio.run, asyncio.wait_for(work, 10)).result()


def events_heard(actions, refit="dot", why_shut=lambda: "", **more):
    """Lines of an event stream until its end; each line sets off the next action."""

    async def listen():
        word, heard = Events(), []
        async for line in word.stream(refit, why_shut, **more):
            if len(heard) < len(actions):
                actions[len(heard)](word)
            heard.append(line)
        return heard

    return done_apart(listen())


def test_words_are_heard_in_order_and_end_with_the_server():
    heard = events_heard(
        [
            lambda word: (
                word.publish("another", "edit", edit=7),
                word.publish("dot", "edit", edit=2),
            ),
            lambda word: word.publish("dot", "review", comment="x"),
            Events.close,
        ]
    )
    assert heard == [
        ": listening\n\n",
        'event: edit\ndata: {"edit": 2}\n\n',
        'event: review\ndata: {"comment": "x"}\n\n',
    ]


def test_whoever_may_hear_no_more_hears_no_more():
    shut = ["", "", "This link was revoked."]
    publish = lambda word: word.publish("dot", "edit", edit=2)  # noqa: E731
    heard = events_heard([publish, publish, publish], why_shut=lambda: shut.pop(0))
    assert heard[1:] == [
        'event: edit\ndata: {"edit": 2}\n\n',
        'event: shut\ndata: {"why": "This link was revoked."}\n\n',
    ]


def test_whose_time_is_over_is_told_without_anything_happening():
    shut = ["", "This link has expired."]
    heard = events_heard([], why_shut=lambda: shut.pop(0), ends_in_s=0.05)
    assert heard[1:] == ['event: shut\ndata: {"why": "This link has expired."}\n\n']


def test_who_listens_beyond_the_limit_is_let_go(monkeypatch):
    monkeypatch.setattr(events, "MOST_LISTENERS", 1)

    async def two():
        word = Events()
        first, second = (word.stream("dot", str) for _ in range(2))
        assert await anext(first) == await anext(second)
        with pytest.raises(StopAsyncIteration):
            await asyncio.wait_for(anext(first), 10)
        word.publish("dot", "edit", edit=2)
        assert "edit" in await asyncio.wait_for(anext(second), 10)

    done_apart(two())
