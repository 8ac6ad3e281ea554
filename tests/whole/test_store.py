"""The store on SQLite and on PostgreSQL: the same promises kept by both."""

from __future__ import annotations

import logging
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from contextlib import suppress
from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from decimal import Decimal
from fractions import Fraction
from threading import Barrier
from typing import TYPE_CHECKING, Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from pleatwright.errors import InputError
from pleatwright.shop.store import (
    CheckEntry,
    Client,
    ClothPiece,
    Conflict,
    MarkEntry,
    Measurements,
    NotKept,
    OrderCard,
    PlanVersion,
    Quote,
    QuoteLine,
    SewingEntry,
    ShopText,
    State,
    Store,
    Taken,
    TartanCard,
    forget_client,
    open_store,
    value_of,
)
from pleatwright.shop.store.values import Told

if TYPE_CHECKING:
    from tests.conftest import Databases, NewStore

NOON = datetime(2031, 5, 4, 12, 0, tzinfo=UTC)


@pytest.fixture
def store(new_store: NewStore) -> Iterator[Store]:
    with open_store(new_store(), now=lambda: NOON) as store:
        yield store


def an_order(store: Store, reference: str = "HL-101", **more: Any) -> OrderCard:
    client = store.add(Client("Rowan Millbeck", email="rowan@example.org"))
    return store.add(OrderCard(client.id, reference, document='name = "Rowan"\n', **more))


# Values in and out

TEXT = st.text(st.characters(exclude_characters="\0", exclude_categories=["Cs"]))
NUMBER = st.integers(-(2**31), 2**31 - 1)
EXACT = st.fractions()
AMOUNT = st.decimals(allow_nan=False, allow_infinity=False)


def filled(kind: type, **fixed: Any) -> st.SearchStrategy[Any]:
    """A value of a kind with anything in its fields that can be kept, apart from what is fixed."""
    known = {str: TEXT, int: NUMBER, Fraction: EXACT, Decimal: AMOUNT, date: st.dates(), bool: st.booleans()}

    def strategy(name: str, hint: Any) -> st.SearchStrategy[Any]:
        if name in fixed:
            return st.just(fixed[name])
        for part in (Taken, QuoteLine, Told):
            if hint == tuple[part, ...]:  # type: ignore[valid-type]  # compared, not declared
                return st.lists(filled(part), max_size=3).map(tuple)
        if hint in known:
            return known[hint]
        optional = {one | None: st.none() | made for one, made in known.items()}
        return optional[hint] if hint in optional else st.from_type(hint)

    from pleatwright.shop.store.packing import hints_of

    hints = {name: hint for name, hint in hints_of(kind).items() if name not in ("id", "version")}
    return st.builds(kind, **{name: strategy(name, hint) for name, hint in hints.items()})


FEW = settings(max_examples=25, suppress_health_check=[HealthCheck.function_scoped_fixture])


@pytest.mark.parametrize(
    "kind, fixed",
    [
        (Client, {"forgotten_on": None}),
        (Measurements, {"client": 1}),
        (TartanCard, {}),
        (OrderCard, {"client": 1, "measurements": None, "tartan": None}),
        (ClothPiece, {"tartan": None, "order": 1, "came_from": None}),
        (Quote, {"order": 1}),
    ],
)
def test_what_is_kept_comes_back_exactly(new_store: NewStore, kind: type, fixed: dict[str, Any]):
    with open_store(new_store()) as store:
        an_order(store)

        @FEW
        @given(filled(kind, **fixed), filled(kind, **fixed))
        def comes_back(first: Any, second: Any) -> None:
            kept = store.add(first)
            assert replace(kept, id=0, version=0) == first
            assert store.get(kind, kept.id) == kept
            if isinstance(second, OrderCard):
                second = replace(second, state=first.state)
            changed = store.save(replace(second, id=kept.id, version=1))
            assert store.get(kind, kept.id) == changed
            assert replace(changed, id=0, version=0) == second

        comes_back()


@pytest.mark.parametrize("kind", [PlanVersion, CheckEntry, MarkEntry, SewingEntry])
def test_what_is_added_to_an_order_comes_back_exactly(new_store: NewStore, kind: type):
    with open_store(new_store(), now=lambda: NOON) as store:
        order = an_order(store)
        lists = {
            PlanVersion: store.plans,
            CheckEntry: store.checks,
            MarkEntry: store.marks,
            SewingEntry: store.sewing,
        }

        @FEW
        @given(filled(kind, order=1, key="", number=0, made_at=None))
        def comes_back(entry: Any) -> None:
            before = lists[kind](order.id)
            kept = store.append(entry)
            assert lists[kind](order.id) == (*before, kept)
            assert kept == replace(entry, id=kept.id, number=len(before) + 1, made_at=NOON)

        comes_back()


def test_a_moment_comes_back_in_utc(store: Store):
    order = an_order(store)
    made = NOON + timedelta(microseconds=1)
    kept = store.append(SewingEntry(order.id, "{}", made_at=made))
    assert store.sewing(order.id) == (kept,)
    assert kept.made_at == made


# Two benches


def test_the_second_save_is_told_is_shown_both_and_loses_nothing(store: Store):
    order = an_order(store)
    ours = store.save(replace(order, document="from the first bench"), by="bench 1")
    with pytest.raises(Conflict) as told:
        store.save(replace(order, document="from the second bench"), by="bench 2")
    assert told.value.theirs == ours
    assert told.value.mine == replace(order, document="from the second bench")
    assert store.get(OrderCard, order.id) == ours
    (draft,) = store.drafts(order)
    assert draft == told.value.draft
    assert (draft.by, draft.base, draft.kept_at) == ("bench 2", 1, NOON)
    assert value_of(draft) == told.value.mine
    store.drop_draft(draft.id)
    assert store.drafts() == ()


def test_the_same_form_sent_twice_is_saved_once(store: Store):
    order = an_order(store)
    changed = replace(order, document="once")
    assert store.save(changed) == store.save(changed)
    assert store.get(OrderCard, order.id).version == 2
    assert store.drafts() == ()


def test_of_many_benches_at_once_one_saves_and_every_other_is_told(new_store: NewStore):
    address, benches = new_store(), 6
    with open_store(address) as store:
        order = an_order(store)
    together = Barrier(benches, timeout=60)

    def bench(number: int) -> Any:
        with open_store(address) as store:  # each with connections of its own, as in a process of its own
            together.wait()
            try:
                return store.save(replace(order, document=f"bench {number}"), by=f"bench {number}")
            except Conflict as told:
                return told

    with ThreadPoolExecutor(benches) as pool:
        done = list(pool.map(bench, range(benches)))
    saved = [one for one in done if isinstance(one, OrderCard)]
    assert len(saved) == 1
    with open_store(address) as store:
        assert store.get(OrderCard, order.id) == saved[0]
        documents = {saved[0].document, *(value_of(draft).document for draft in store.drafts(order))}  # type: ignore[union-attr]  # drafts of an order are orders
        assert documents == {f"bench {number}" for number in range(benches)}
        assert [version.document for version in store.order_versions(order.id)] == [
            order.document,
            saved[0].document,
        ]


def test_entries_from_many_benches_are_numbered_without_gap(new_store: NewStore):
    address, benches, each = new_store(), 4, 10
    with open_store(address) as store:
        order = an_order(store)

        def bench(number: int) -> None:
            for entry in range(each):
                store.append(MarkEntry(order.id, "abc", f"pleat {entry}", by=str(number)))

        with ThreadPoolExecutor(benches) as pool:
            list(pool.map(bench, range(benches)))
        marks = store.marks(order.id)
    assert [mark.number for mark in marks] == list(range(1, benches * each + 1))
    for number in range(benches):
        assert [mark.mark for mark in marks if mark.by == str(number)] == [
            f"pleat {one}" for one in range(each)
        ]


def test_many_benches_save_the_same_client_and_none_waits_for_ever(new_store: NewStore):
    address, benches, each = new_store(), 4, 6
    with open_store(address) as store:
        client = store.add(Client("Rowan Millbeck"))
    together = Barrier(benches, timeout=60)

    def bench(number: int) -> int:
        saved = 0
        with open_store(address) as store:
            for count in range(each):
                together.wait()
                with suppress(Conflict):
                    store.save(replace(store.get(Client, client.id), notes=f"{number} {count}"))
                    saved += 1
        return saved

    with ThreadPoolExecutor(benches) as pool:
        saved = sum(pool.map(bench, range(benches)))
    with open_store(address) as store:
        assert store.get(Client, client.id).version == saved + 1
        assert len(store.drafts(client)) == benches * each - saved


def test_an_order_moves_or_its_client_is_forgotten_but_neither_waits_for_ever(new_store: NewStore):
    address, rounds = new_store(), 6
    with open_store(address) as store:
        orders = [an_order(store, state=State.CALLED_OFF) for _ in range(rounds)]
    together = Barrier(2, timeout=60)

    def bench(which: str) -> list[bool]:
        done = []
        with open_store(address) as store:
            for order in orders:
                together.wait()
                try:
                    if which == "move":
                        store.move(order.id, State.ASKED)
                    else:
                        forget_client(store, order.client)
                except InputError:
                    done.append(False)
                else:
                    done.append(True)
        return done

    with ThreadPoolExecutor(2) as pool:
        moved, forgotten = pool.map(bench, ("move", "forget"))
    assert [one is not other for one, other in zip(moved, forgotten, strict=True)] == [True] * rounds


def test_a_new_store_opened_by_several_benches_at_once_is_made_once(databases: Databases):
    address, benches = databases.empty(), 4
    together = Barrier(benches, timeout=60)

    def bench(number: int) -> None:
        together.wait()
        with open_store(address) as store:
            store.add(Client(f"Client {number}"))

    with ThreadPoolExecutor(benches) as pool:
        list(pool.map(bench, range(benches)))
    with open_store(address) as store:
        assert len(store.clients()) == benches


def test_the_shop_file_is_one_and_the_second_to_write_it_is_told(store: Store):
    assert store.shop() == ShopText()
    first = store.save_shop(ShopText('name = "Harebell Lane Kilts"'))
    with pytest.raises(Conflict):
        store.save_shop(ShopText('name = "Other"'))
    assert store.shop() == first
    assert store.save_shop(replace(first, document="")).version == 2


def test_an_entry_sent_twice_is_kept_once(store: Store):
    order, other = an_order(store), an_order(store)
    entry = MarkEntry(order.id, "abc", "pleat 1", found=Fraction(47, 2), key="tablet-7")
    assert store.append(entry) == store.append(entry)
    assert len(store.marks(order.id)) == 1
    assert store.append(replace(entry, order=other.id)).number == 1
    store.append(replace(entry, key=""))
    store.append(replace(entry, key=""))
    assert len(store.marks(order.id)) == 3


# Orders


def test_every_version_of_an_order_is_kept_with_its_bench(store: Store):
    order = an_order(store)
    order = store.save(replace(order, document="second"), by="bench 2")
    store.move(order.id, State.MEASURED, by="bench 3")
    kept = store.order_versions(order.id)
    assert [(one.number, one.by, one.state, one.document) for one in kept] == [
        (1, "", State.ASKED, 'name = "Rowan"\n'),
        (2, "bench 2", State.ASKED, "second"),
        (3, "bench 3", State.MEASURED, "second"),
    ]


def test_an_order_goes_only_where_its_state_leads(store: Store):
    order = an_order(store)
    for refused in (
        lambda: store.move(order.id, State.RIPPED),
        lambda: store.save(replace(order, state=State.SEWING)),
    ):
        with pytest.raises(InputError, match=r"order.state: .* cannot follow asked; choose measured"):
            refused()
    assert store.get(OrderCard, order.id) == order
    for state in (State.CHALKED, State.CHECKED, State.RIPPED, State.SEWING, State.FINISHED, State.COLLECTED):
        order = store.move(order.id, state)
    with pytest.raises(InputError, match="begin a new order"):
        store.move(order.id, State.ASKED)
    assert store.move(order.id, State.COLLECTED) == order


def test_orders_are_listed_by_promise_and_found_by_any_of_their_words(store: Store):
    late = an_order(store, "HL-103", promised=date(2031, 9, 1))
    never = an_order(store, "HL-104")
    soon = an_order(store, "Grüße_1%", promised=date(2031, 6, 1))
    assert [line.id for line in store.orders()] == [soon.id, late.id, never.id]
    assert [line.id for line in store.orders("hl millbeck")] == [late.id, never.id]
    assert [line.id for line in store.orders("GRÜSSE")] == [soon.id]
    assert [line.id for line in store.orders("e_1%")] == [soon.id]
    assert store.orders("L_10") == store.orders("\0 nobody \ud800") == ()
    assert [line.id for line in store.due(date(2031, 6, 1))] == [soon.id]
    assert store.due(date(2031, 5, 31)) == ()
    store.move(soon.id, State.CALLED_OFF)
    assert store.due(date(2031, 6, 1)) == ()
    assert [line.id for line in store.orders(states=[State.CALLED_OFF])] == [soon.id]
    assert [line.id for line in store.orders(client=late.client)] == [late.id]
    assert [line.id for line in store.orders(limit=1, offset=1)] == [late.id]
    assert (store.count_orders(), store.count_orders("hl")) == (3, 2)
    line = store.orders("HL-103")[0]
    assert (line.client_name, line.promised, line.version) == ("Rowan Millbeck", date(2031, 9, 1), 1)


def test_the_last_plan_is_at_hand_and_every_earlier_one_is_kept(store: Store):
    order = an_order(store)
    assert store.plan(order.id) is None
    plans = [store.append(PlanVersion(order.id, 1, f"v{number}", "{}" * 9999)) for number in (1, 2, 3)]
    assert store.plan(order.id) == plans[2]
    assert store.plan(order.id, 2) == plans[1]
    assert store.plan(order.id, 4) is None
    assert store.plans(order.id) == tuple(plans)


def test_measurements_and_quotes_are_listed_newest_first(store: Store):
    order = an_order(store)
    first, last = (store.add(Measurements(order.client, date(2031, month, 4))) for month in (2, 5))
    middle = store.add(Measurements(order.client, date(2031, 3, 4)))
    assert store.measurements(order.client) == (last, middle, first)
    quotes = [
        store.add(Quote(order.id, date(2031, 5, 4), "€", total=Decimal(900 + more))) for more in (0, 50)
    ]
    assert store.quotes(order.id) == (quotes[1], quotes[0])


def test_an_order_is_made_from_the_body_of_its_own_client(store: Store):
    order, other = an_order(store), an_order(store)
    body = store.add(Measurements(other.client, date(2031, 5, 4)))
    for refused in (
        lambda: store.add(OrderCard(order.client, measurements=body.id)),
        lambda: store.save(replace(order, measurements=body.id)),
    ):
        with pytest.raises(InputError, match=f"order.measurements: {body.id} are another client's"):
            refused()
    assert store.save(replace(other, measurements=body.id)).measurements == body.id


def test_nothing_goes_over_to_another_client(store: Store):
    order, other = an_order(store), an_order(store)
    body = store.add(Measurements(order.client, date(2031, 5, 4)))
    quote = store.add(Quote(order.id, date(2031, 5, 4), "€"))
    for field, wanted in (
        ("order.client", replace(order, client=other.client)),
        ("measurements.client", replace(body, client=other.client)),
        ("quote.order", replace(quote, order=other.id)),
    ):
        with pytest.raises(InputError, match=f"{field}: 2 must stay 1; begin a new one there"):
            store.save(wanted)
    assert store.drafts() == ()


# Cloth


def test_what_is_left_after_a_rip_is_in_stock_as_pieces_of_its_own(store: Store):
    order = an_order(store)
    bolt = store.add(ClothPiece("Withyburn, 9 yd", length=Fraction(324), width=Fraction(58), order=order.id))
    ripped, strip = store.rip(bolt, [ClothPiece("Withyburn strip", length=Fraction(324), width=Fraction(11))])
    assert (ripped.state, ripped.version) == ("ripped", 2)
    assert (strip.came_from, strip.state) == (bolt.id, "here")
    assert store.pieces("withyburn") == (strip, ripped) or store.pieces("withyburn") == (ripped, strip)
    assert store.pieces(order=order.id) == (ripped,)
    with pytest.raises(Conflict):
        store.rip(bolt, [ClothPiece("never kept")])
    assert store.pieces("never") == ()


# What is refused


@pytest.mark.parametrize("number", [0, -1, 99, 2**31, 10**30])
def test_what_is_not_kept_is_said_so(store: Store, number: int):
    with pytest.raises(NotKept, match=f"order: {number} is not in the store"):
        store.get(OrderCard, number)
    with pytest.raises(NotKept):
        store.append(MarkEntry(number, "abc", "pleat 1")) if abs(number) < 2**31 else store.get(
            Client, number
        )


def test_a_number_past_all_counting_is_no_fault(store: Store):
    for look in (
        lambda: store.plan(an_order(store).id, 10**30),
        lambda: store.measurements(10**30),
        lambda: store.orders(client=10**30),
        lambda: store.drop_draft(10**30),
    ):
        with suppress(InputError):  # SQLite counts further, PostgreSQL not
            assert not look()


def test_an_order_for_nobody_is_refused_without_saying_what_was_in_it(store: Store):
    with pytest.raises(InputError, match="the store: a number names what is not kept") as refused:
        store.add(OrderCard(77, document="waist 34"))
    assert "34" not in str(refused.value)
    assert refused.value.__cause__ is None
    assert store.orders() == ()


def test_nothing_that_is_kept_goes_into_the_log(store: Store, caplog: pytest.LogCaptureFixture):
    caplog.set_level(logging.DEBUG)
    client = store.add(Client("Rowan Millbeck", phone="5550100"))
    store.add(Measurements(client.id, date(2031, 5, 4), taken=(Taken("waist", Fraction(271, 8)),)))
    with pytest.raises(InputError):
        store.add(Measurements(77, date(2031, 5, 4), taken=(Taken("waist", Fraction(271, 8)),)))
    assert not [word for word in ("Millbeck", "5550100", "271") if word in caplog.text]
