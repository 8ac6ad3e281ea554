"""The app's working memory: each thing made once, and forgotten when it must be."""

from __future__ import annotations

import threading
from pathlib import Path

from pleatwright.web.desk import Desk, Kept

DEMO = (Path(__file__).parents[2] / "examples" / "demo.toml").read_text()


def test_a_value_is_made_once_for_all_who_want_it():
    kept, made = Kept(3), iter((1, 2, 3))
    for _ in range(3):
        assert kept.get("name", lambda: next(made)) == 1


def test_the_value_not_used_for_longest_goes_first():
    kept = Kept(2)
    for name in ("a", "b"):
        kept.get(name, lambda: 1)
    kept.find("a")
    kept.get("c", lambda: 1)
    assert [kept.find(name) for name in "abc"] == [1, None, 1]


def test_what_is_being_made_while_all_is_forgotten_is_not_kept_either():
    kept, begun, cleared = Kept(3), threading.Event(), threading.Event()

    def make() -> str:
        begun.set()
        assert cleared.wait(10)
        return "36 1/2"

    maker = threading.Thread(target=lambda: kept.get("waist", make))
    maker.start()
    assert begun.wait(10)
    kept.clear()
    cleared.set()
    maker.join(10)
    assert kept.find("waist") is None


def test_after_clearing_a_desk_nothing_of_an_order_is_left_on_it():
    desk = Desk()
    worked = desk.worked(DEMO, "")
    option = worked.plan.options[0]
    desk.picture(worked, option, "back", 60)
    desk.closing(worked, option)
    desk.bears(worked)
    desk.few(worked)
    desk.figures("hours", lambda: (1.0,))
    every = [one for one in vars(desk).values() if isinstance(one, Kept)]
    assert len(every) == 5
    assert all(len(one) for one in every)
    desk.clear()
    assert not any(len(one) for one in every)
    assert desk.known(worked.key) is None
