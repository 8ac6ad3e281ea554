"""Who may use the app."""

from __future__ import annotations

from pleatwright.web.sessions import CODE_LASTS, IDLE, LONGEST, MOST, PAUSE, TRIES, Sessions


class Clock:
    def __init__(self) -> None:
        self.now = 0.0

    def __call__(self) -> float:
        return self.now


def test_a_session_that_is_not_used_expires():
    clock = Clock()
    sessions = Sessions(clock)
    secret = sessions.begin().secret
    clock.now = IDLE - 1
    assert sessions.find(secret) is not None
    clock.now += IDLE + 1
    assert sessions.find(secret) is None


def test_a_session_that_is_used_all_the_time_expires_too():
    clock = Clock()
    sessions = Sessions(clock)
    secret = sessions.begin().secret
    while clock.now <= LONGEST:
        assert sessions.find(secret) is not None
        clock.now += IDLE / 2
    assert sessions.find(secret) is None


def test_a_code_pairs_one_device_and_then_there_is_another():
    told: list[str] = []
    sessions = Sessions(Clock(), told.append)
    code = sessions.code()
    assert code == told[-1]
    assert len(code) == 8
    assert sessions.pair(f" {code} ") is not None
    assert sessions.code() == told[-1] != code
    assert sessions.pair(code) is None


def test_a_code_written_in_two_halves_is_the_same_code():
    sessions = Sessions(Clock(), lambda _: None)
    code = sessions.code()
    assert sessions.pair(f"{code[:4]} {code[4:]}") is not None


def test_a_code_runs_out_and_the_next_one_is_told():
    clock, told = Clock(), list[str]()
    sessions = Sessions(clock, told.append)
    first = sessions.code()
    clock.now = CODE_LASTS
    assert sessions.code() == first
    clock.now += 1
    assert sessions.pair(first) is None
    assert sessions.code() == told[-1] != first
    assert len(told) == 2
    assert sessions.pair(told[-1]) is not None


def test_after_five_wrong_codes_there_is_a_new_one_and_a_pause():
    clock = Clock()
    sessions = Sessions(clock, lambda _: None)
    code = sessions.code()
    wrong = "00000000" if code != "00000000" else "11111111"
    for _ in range(TRIES):
        assert sessions.code() == code
        assert sessions.pair(wrong) is None
    assert sessions.code() != code
    assert sessions.pair(code) is None
    assert sessions.pair(sessions.code()) is None
    clock.now += PAUSE
    assert sessions.pair(sessions.code()) is not None


def test_without_other_devices_no_code_is_right():
    sessions = Sessions(Clock())
    assert sessions.code() == ""
    assert sessions.pair("") is None


def test_sessions_do_not_grow_without_end():
    clock = Clock()
    sessions = Sessions(clock)
    first = sessions.begin()
    for _ in range(MOST):
        clock.now += 1
        sessions.begin()
    assert sessions.find(first.secret) is None


def test_a_link_opens_the_app_once():
    sessions = Sessions(Clock())
    link, other = sessions.link(), sessions.link()
    assert sessions.opened("") is None
    assert sessions.opened(link) is not None
    assert sessions.opened(link) is None
    assert sessions.opened(other) is not None


def test_a_browser_of_the_workshops_own_machine_is_let_in_for_a_week():
    clock = Clock()
    sessions = Sessions(clock)
    opened = sessions.opened(sessions.link())
    assert opened is not None
    clock.now = LONGEST
    assert sessions.find(opened.secret) is not None
    clock.now += 1
    assert sessions.find(opened.secret) is None


def test_no_code_is_told_before_a_browser_asks_for_one():
    told: list[str] = []
    sessions = Sessions(Clock(), told.append)
    assert told == []
    assert sessions.pair("") is None
    code = sessions.code()
    assert sessions.pair(code) is not None
    assert told == [code]
