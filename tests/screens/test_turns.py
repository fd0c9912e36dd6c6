"""What threads hand over: in the loop, in order, and one thing in each of its turns."""

from __future__ import annotations

import asyncio
import threading
from functools import partial

from whatif.screens.turns import Turns


async def test_what_a_thread_hands_over_is_done_in_the_loop_one_thing_in_each_turn() -> None:
    turns = Turns()
    turns.begin()
    done: list[tuple[int, int]] = []
    turn = 0

    def do(thing: int) -> None:
        assert threading.current_thread() is threading.main_thread()
        done.append((thing, turn))

    def hand_over() -> None:
        for thing in range(5):
            turns(partial(do, thing))

    thread = threading.Thread(target=hand_over)
    thread.start()
    thread.join()  # all of it waits when the loop goes on
    while len(done) < 5:
        turn += 1
        await asyncio.sleep(0)
        assert turn < 100
    assert [thing for thing, _ in done] == list(range(5))
    assert len({turn for _, turn in done}) == 5


async def test_a_thing_that_goes_wrong_keeps_none_from_its_turn() -> None:
    asyncio.get_running_loop().set_exception_handler(lambda _loop, _told: None)
    turns = Turns()
    turns.begin()
    done: list[str] = []

    def wrong() -> None:
        raise ValueError("wrong")

    turns(wrong)
    turns(partial(done.append, "next"))
    await asyncio.sleep(0.05)
    assert done == ["next"]


def test_nothing_is_done_once_the_loop_has_ended() -> None:
    turns = Turns()

    async def begin() -> None:
        turns.begin()

    asyncio.run(begin())
    done: list[str] = []
    turns(partial(done.append, "done"))
    assert not done
