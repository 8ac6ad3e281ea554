"""The store in one file and back, on both databases and from one to the other; what a client may ask for."""

from __future__ import annotations

import errno
import hashlib
import io
import json
import os
import zipfile
import zlib
from collections.abc import Callable, Iterator
from dataclasses import replace
from datetime import UTC, date, datetime
from decimal import Decimal
from fractions import Fraction
from pathlib import Path
from random import Random
from typing import TYPE_CHECKING, Any

import pytest
from sqlalchemy import select

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
    client_bundle,
    forget_client,
    open_store,
    read_backup,
    write_backup,
)
from pleatwright.shop.store.opening import HEAD, SAME_VALUES_SINCE
from pleatwright.shop.store.rows import from_row
from pleatwright.shop.store.tables import TABLES
from tests.whole import commands

if TYPE_CHECKING:
    from tests.conftest import NewStore

NOON = datetime(2031, 5, 4, 12, 0, tzinfo=UTC)
DAY = date(2031, 5, 4)


@pytest.fixture
def store(new_store: NewStore) -> Iterator[Store]:
    with open_store(new_store(), now=lambda: NOON) as store:
        fill(store)
        yield store


def fill(store: Store) -> None:
    """One of everything, for two clients, with what a text can hold."""
    store.save_shop(ShopText('name = "Harebell Lane Kilts"\n'))
    tartan = store.add(TartanCard("Withyburn", 'count = "B24 W4"\n', weaver="Low Mill", restricted=True))
    for number, name in ((1, "Rowan Millbeck"), (2, "Zoë Ørsted-Łuczak 🪡\n\t\"'=cmd")):
        client = store.add(Client(name, email=f"c{number}@example.org", address="3 Heather Row"))
        taken = (
            Taken("waist", Fraction(271, 8), Fraction(34), "at the strap line"),
            Taken("hips", Fraction(1, 3)),
        )
        body = store.add(Measurements(client.id, DAY, taken=taken, towel=True, figure="one hip higher"))
        order = store.add(
            OrderCard(
                client.id,
                f"HL-{number}",
                promised=date(2031, 9, 1),
                deposit=Decimal("200.50"),
                document=f'[client]\nname = "Client {number}"\n',
                measurements=body.id,
                tartan=tartan.id,
            )
        )
        stale = order
        order = store.save(replace(order, notes=f"knocks on door {number}"), by="bench 1")
        with pytest.raises(Conflict):
            store.save(replace(stale, notes=f"rings the bell {number}"), by="bench 2")
        store.append(PlanVersion(order.id, order.version, "0badcafe", f'{{"client": "Client {number}"}}'))
        store.append(CheckEntry(order.id, "0badcafe", "go", "{}", key="k"))
        store.append(MarkEntry(order.id, "0badcafe", "pleat 1", Fraction(1, 3)))
        store.append(SewingEntry(order.id, '{"hips": "40"}', key="k"))
        lines = (QuoteLine("cloth", Decimal("8.5"), "yd", Decimal("61.20")),)
        store.add(Quote(order.id, DAY, "€", lines, total=Decimal("812.00"), notes=f"for client {number}"))
    bolt = store.add(ClothPiece("Withyburn, 9 yd", tartan=tartan.id, order=1, length=Fraction(324)))
    store.rip(bolt, [ClothPiece("Withyburn strip", width=Fraction(21, 2))])


def everything(store: Store) -> dict[str, list[Any]]:
    with store.reading() as connection:
        found: dict[str, list[Any]] = {}
        for kind, table in TABLES.items():
            rows = connection.execute(select(table).order_by(table.c.id))
            found[table.name] = [from_row(kind, row._asdict()) for row in rows]
        return found


def in_the_files(store: Store, *words: str) -> list[str]:
    """Which of the words stand anywhere in the files of a store, as they are or kept small."""
    if store.engine.dialect.name == "sqlite":
        path = Path(store.engine.url.database or "")
        files = list(path.parent.glob(f"{path.name}*"))
    else:
        with store.engine.connect() as connection:
            connection.exec_driver_sql("CHECKPOINT")
            query = "SELECT current_setting('data_directory') || '/base/' || oid FROM pg_database"
            query += " WHERE datname = current_database()"
            files = list(Path(connection.exec_driver_sql(query).scalar_one()).iterdir())
    content = b"".join(file.read_bytes() for file in files)
    kept_small = {word: zlib.compress(word.encode())[:40] for word in words}  # what one page holds of it
    return [word for word in words if word.encode() in content or kept_small[word] in content]


# Backup


def test_a_backup_brings_everything_back(store: Store, new_store: NewStore, tmp_path: Path):
    count = write_backup(store, tmp_path / "monday.zip")
    before = everything(store)
    assert count == sum(map(len, before.values()))
    assert all(before.values()), "one of everything is in it"
    with open_store(new_store()) as other:
        assert read_backup(other, tmp_path / "monday.zip") == count
        assert everything(other) == before
        assert other.add(Client("Next")).id == 3  # and the counting goes on from there
        assert other.orders("millbeck")[0].reference == "HL-1"


def test_a_backup_of_one_database_is_that_of_the_other(tmp_path: Path, postgres: str):
    import psycopg

    with psycopg.connect(postgres.format("postgres"), autocommit=True) as connection:
        connection.execute("CREATE DATABASE moved")
    with (
        open_store(f"sqlite:///{tmp_path}/store.sqlite", now=lambda: NOON) as small,
        open_store(postgres.format("moved")) as large,
        open_store(f"sqlite:///{tmp_path}/again.sqlite") as again,
    ):
        fill(small)
        write_backup(small, tmp_path / "small.zip")
        read_backup(large, tmp_path / "small.zip")
        write_backup(large, tmp_path / "large.zip")
        read_backup(again, tmp_path / "large.zip")
        assert everything(small) == everything(large) == everything(again)
    assert (tmp_path / "small.zip").read_bytes() == (tmp_path / "large.zip").read_bytes()


def test_a_backup_can_be_read_without_this_program(store: Store, tmp_path: Path):
    write_backup(store, tmp_path / "monday.zip")
    with zipfile.ZipFile(tmp_path / "monday.zip") as packed:
        assert packed.testzip() is None
        listed = json.loads(packed.read("backup.json"))
        clients = [json.loads(line) for line in packed.read("clients.jsonl").splitlines()]
    assert listed["tables"]["clients"]["values"] == 2
    assert [client["name"] for client in clients] == [client.name for client in everything(store)["clients"]]
    assert (tmp_path / "monday.zip").stat().st_mode & 0o077 == 0


def test_a_backup_is_taken_at_one_moment_while_others_write(store: Store, tmp_path: Path):
    before = everything(store)
    with store.reading() as connection:
        connection.execute(select(TABLES[Client])).all()  # the moment
        store.add(Client("Latecomer"))
        rows = connection.execute(select(TABLES[Client])).all()
    assert len(rows) == len(before["clients"])
    write_backup(store, tmp_path / "monday.zip")
    assert len(everything(store)["clients"]) == len(before["clients"]) + 1


def test_a_backup_goes_only_into_an_empty_store_and_onto_no_other_file(store: Store, tmp_path: Path):
    path = tmp_path / "monday.zip"
    write_backup(store, path)
    before = everything(store)
    with pytest.raises(InputError, match="the store: its shop must be empty; restore into a new store"):
        read_backup(store, path)
    assert everything(store) == before
    with pytest.raises(InputError, match="is there already; name a new file"):
        write_backup(store, path)
    with pytest.raises(InputError, match="cannot be written"):
        write_backup(store, tmp_path / "no folder" / "monday.zip")
    assert [file for file in tmp_path.iterdir() if file.suffix == ".zip"] == [path]


def test_a_backup_that_finds_no_room_leaves_nothing(
    store: Store, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
):
    def full(_: int) -> None:
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

    monkeypatch.setattr("os.fsync", full)
    with pytest.raises(InputError, match=r"cannot be written \(no space left on device\)"):
        write_backup(store, tmp_path / "monday.zip")
    assert not list(tmp_path.glob("*monday*"))


def test_a_backup_flipped_anywhere_is_refused_or_whole(tmp_path: Path):
    with open_store(f"sqlite:///{tmp_path}/store.sqlite", now=lambda: NOON) as store:
        fill(store)
        write_backup(store, tmp_path / "monday.zip")
        before = everything(store)
    content = (tmp_path / "monday.zip").read_bytes()
    empty = open_store(f"sqlite:///{tmp_path}/empty.sqlite")
    for place in range(0, len(content), 41):
        spoilt = bytearray(content)
        spoilt[place] ^= 0x55
        (tmp_path / "spoilt.zip").write_bytes(spoilt)
        try:
            read_backup(empty, tmp_path / "spoilt.zip")
        except InputError:
            assert not any(everything(empty).values())
        else:  # what was spoilt says nothing, as the hour of a file
            assert everything(empty) == before
            empty.close()
            empty = open_store(f"sqlite:///{tmp_path}/empty{place}.sqlite")
    empty.close()


def repacked(path: Path, changed: dict[str, bytes | None]) -> Path:
    """The same zip with some files changed, or left out."""
    out = path.with_name("changed.zip")
    with zipfile.ZipFile(path) as old, zipfile.ZipFile(out, "w") as new:
        for name in old.namelist():
            content = changed.get(name, old.read(name))
            if content is not None:
                new.writestr(name, content)
    return out


def test_a_damaged_backup_brings_nothing_back(store: Store, new_store: NewStore, tmp_path: Path):
    path = tmp_path / "monday.zip"
    write_backup(store, path)
    with zipfile.ZipFile(path) as packed:
        drafts, listed = packed.read("drafts.jsonl"), packed.read("backup.json")
    cut, flipped = tmp_path / "cut.zip", tmp_path / "flipped.zip"
    content = path.read_bytes()
    cut.write_bytes(content[: len(content) // 2])
    middle = len(content) // 3
    flipped.write_bytes(content[:middle] + bytes([content[middle] ^ 1]) + content[middle + 1 :])
    (tmp_path / "order.toml").write_text("[client]\n")
    with open_store(new_store()) as other:

        def refuse(path: Path, match: str) -> None:
            with pytest.raises(InputError, match=match):
                read_backup(other, path)
            assert not any(everything(other).values())

        damaged = "is no backup, or is damaged"
        for each in (cut, flipped, tmp_path / "order.toml"):
            refuse(each, damaged)
        for content_of_drafts in (
            None,  # the file left out
            b"",  # a value lost
            drafts * 2,  # a value twice
            drafts.replace(b"rings", b"wrings"),  # a word changed
            drafts.replace(b'"by"', b'"of"'),  # a name changed
            b"[]\n",
            b"\xff\n",
        ):
            refuse(repacked(path, {"drafts.jsonl": content_of_drafts}), damaged)
        refuse(repacked(path, {"backup.json": b"[]"}), damaged)
        refuse(repacked(path, {"backup.json": listed.replace(b"pleatwright backup", b"another")}), damaged)
        for another in (b'"7777"', b'"0001"'):  # newer, and before values got a letter
            made = repacked(path, {"backup.json": listed.replace(f'"{HEAD}"'.encode(), another)})
            refuse(made, "was made by another Pleatwright; restore it with that one")
        refuse(tmp_path / "none.zip", "cannot be read")
        read_backup(other, path)


def test_a_backup_made_before_the_lists_were_quicker_is_restored(
    store: Store, new_store: NewStore, tmp_path: Path
):
    path = tmp_path / "monday.zip"
    store.add(Client("Rowan Ashgrove"))
    write_backup(store, path)
    with zipfile.ZipFile(path) as packed:
        listed = packed.read("backup.json")
    assert SAME_VALUES_SINCE < HEAD
    older = repacked(
        path, {"backup.json": listed.replace(f'"{HEAD}"'.encode(), f'"{SAME_VALUES_SINCE}"'.encode())}
    )
    with open_store(new_store()) as other:
        assert read_backup(other, older) > 0
        assert everything(other) == everything(store)


def test_a_backup_with_what_no_database_keeps_brings_nothing_back(new_store: NewStore, tmp_path: Path):
    with open_store(new_store()) as store:
        store.add(Client("Rowan"))
        write_backup(store, tmp_path / "monday.zip")
    with zipfile.ZipFile(tmp_path / "monday.zip") as packed:
        listed = json.loads(packed.read("backup.json"))
        clients = packed.read("clients.jsonl").replace(b"Rowan", b"Row\\u0000n")
    listed["tables"]["clients"]["sha256"] = hashlib.sha256(clients).hexdigest()
    forged = repacked(
        tmp_path / "monday.zip", {"clients.jsonl": clients, "backup.json": json.dumps(listed).encode()}
    )
    with open_store(new_store()) as other:
        with pytest.raises(InputError, match=r"client\.name: its text holds what is no text"):
            read_backup(other, forged)
        assert not any(everything(other).values())


def test_a_backup_whose_references_lead_nowhere_brings_nothing_back(new_store: NewStore, tmp_path: Path):
    with open_store(new_store()) as store:
        order = store.add(OrderCard(store.add(Client("Rowan")).id))
        write_backup(store, tmp_path / "monday.zip")
    with zipfile.ZipFile(tmp_path / "monday.zip") as packed:
        listed = json.loads(packed.read("backup.json"))
        orders = packed.read("orders.jsonl").replace(b'"client": 1', b'"client": 7')
    listed["tables"]["orders"]["sha256"] = hashlib.sha256(orders).hexdigest()
    forged = repacked(
        tmp_path / "monday.zip", {"orders.jsonl": orders, "backup.json": json.dumps(listed).encode()}
    )
    assert order.id == 1
    with open_store(new_store()) as other:
        with pytest.raises(InputError, match="names what is not kept"):
            read_backup(other, forged)
        assert not any(everything(other).values())


# One client's own


def test_all_that_is_kept_about_a_client_is_handed_out_and_nothing_of_others(store: Store):
    with zipfile.ZipFile(io.BytesIO(client_bundle(store, 1))) as packed:
        files = {name: packed.read(name).decode() for name in packed.namelist()}
    assert sorted(files) == [
        "README.txt",
        "client.json",
        "order-1/order.toml",
        "order-1/plan-1.json",
        "order-1/version-1.toml",
        "order-1/version-2.toml",
    ]
    told = json.loads(files["client.json"])
    assert told["client"]["name"] == "Rowan Millbeck"
    assert told["measurements"][0]["taken"][0]["first"] == "271/8"
    lists = ("orders", "quotes", "checks", "marks", "sewing", "drafts", "plans")
    assert [len(told[name]) for name in lists] == [1] * len(lists)
    assert [(one["number"], one["by"]) for one in told["order_versions"]] == [(1, ""), (2, "bench 1")]
    assert (told["plans"][0]["number"], told["plans"][0]["order_version"]) == (1, 2)
    assert [piece["name"] for piece in told["pieces"]] == ["Withyburn, 9 yd"]
    assert set(told) == {"client", "measurements", "order_versions", "pieces", *lists}
    assert "rings the bell 1" in told["drafts"][0]["text"]
    assert not [
        name for name, text in files.items() if "Client 2" in text or "bell 2" in text or "Zoë" in text
    ]
    with pytest.raises(NotKept):
        client_bundle(store, 99)


def test_a_forgotten_client_leaves_only_what_accounts_need(store: Store):
    before = everything(store)
    with pytest.raises(InputError, match="order HL-1 is still open"):
        forget_client(store, 1)
    assert everything(store) == before
    store.move(1, State.CALLED_OFF)
    said = forget_client(store, 1)
    assert said.erased[1:] == (
        "1 measurements of the body",
        "the documents and notes of 1 orders, with 3 earlier versions",
        "1 plans, 1 checks, 1 marks and 1 entries of sewing logs",
        "1 drafts",
    )
    after = everything(store)
    assert store.get(Client, 1) == Client("forgotten client 1", forgotten_on=DAY, id=1, version=2)
    order = store.get(OrderCard, 1)
    assert (order.reference, order.state, order.deposit) == ("HL-1", State.CALLED_OFF, Decimal("200.50"))
    assert (order.document, order.notes, order.measurements) == ("", "", None)
    assert store.quotes(1)[0].total == Decimal("812.00")
    whole = repr(after)
    assert not [
        word
        for word in ("Rowan", "Millbeck", "c1@", "knocks on door 1", "bell 1", "Client 1")
        if word in whole
    ]
    assert after["drafts"] == [value for value in before["drafts"] if value.of == 2]
    for name in ("plans", "checks", "marks", "sewing"):
        assert after[name] == [value for value in before[name] if value.order == 2]
    assert after["measurements"] == [value for value in before["measurements"] if value.client == 2]
    assert after["clients"][1:] == before["clients"][1:]
    assert after["pieces"] == before["pieces"]
    assert store.clients("millbeck") == ()


def test_nothing_of_a_forgotten_client_is_left_in_the_files(store: Store):
    long = Random(1).randbytes(20_000).hex()  # over many pages
    store.save(replace(store.get(OrderCard, 1), document=long))
    store.save(replace(store.get(OrderCard, 1), document="short"))
    store.append(SewingEntry(1, '{"hips": "found 41"}'))
    words = (
        "Millbeck", "c1@example.org", "knocks on door 1", "rings the bell 1", "for client 1",
        long, '{"client": "Client 1"}', "found 41",
    )  # fmt: skip
    assert in_the_files(store, *words, "HL-1") == [*words, "HL-1"]
    store.move(1, State.CALLED_OFF)
    forget_client(store, 1)
    assert in_the_files(store, *words) == []
    assert in_the_files(store, "c2@example.org", "HL-1") == ["c2@example.org", "HL-1"]


def test_traces_are_said_while_another_bench_keeps_them(tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    monkeypatch.setattr("pleatwright.shop.store.opening._BUSY_SECONDS", 0.05)
    address = f"sqlite:///{tmp_path}/store.sqlite"
    with open_store(address) as store, open_store(address) as other:
        fill(store)
        store.move(1, State.CALLED_OFF)
        with other.reading() as connection:
            connection.execute(select(TABLES[Client])).all()
            assert forget_client(store, 1).stays[-1].startswith("traces in the store's files: forget the")
        assert store.clients("millbeck") == ()
        assert not any("traces" in line for line in forget_client(store, 1).stays)
        assert in_the_files(store, "Millbeck") == []


def test_nothing_new_is_kept_about_a_forgotten_client(store: Store):
    stale_order, stale_quote, stale_body = (
        store.get(OrderCard, 1),
        store.quotes(1)[0],
        store.measurements(1)[0],
    )
    stale_client = store.get(Client, 1)
    store.move(1, State.CALLED_OFF)
    forget_client(store, 1)
    before = everything(store)
    for brought in (
        lambda: store.save(replace(stale_order, notes="waist 34")),
        lambda: store.save(replace(stale_quote, notes="waist 34")),
        lambda: store.save(replace(stale_body, notes="waist 34")),
        lambda: store.save(replace(stale_client, notes="waist 34")),
        lambda: store.add(Measurements(1, DAY)),
        lambda: store.add(OrderCard(1)),
        lambda: store.append(SewingEntry(1, "{}")),
        lambda: store.move(1, State.ASKED),
    ):
        with pytest.raises(InputError, match="client: 1 was forgotten on 2031-05-04"):
            brought()
    assert everything(store) == before
    assert forget_client(store, 1).erased[1] == "0 measurements of the body"


# The command


Run = Callable[..., str]


@pytest.fixture
def run(monkeypatch: pytest.MonkeyPatch) -> Run:
    """Runs a command on a store; returns all it said."""

    def command(*arguments: object, store: str, code: int = 0) -> str:
        monkeypatch.setenv("PLEATWRIGHT_DATABASE_URL", store)
        done = commands.run("store", *arguments)
        said = done.stdout + done.stderr
        assert done.returncode == code, said
        return said

    return command


def test_the_store_from_the_command_line(run: Run, tmp_path: Path):
    address = f"sqlite:///{tmp_path}/store.sqlite"
    with open_store(address) as store:
        fill(store)
        store.move(1, State.CALLED_OFF)
        before = everything(store)
    assert "keep it locked away" in run("backup", tmp_path / "monday.zip", store=address)
    assert "is there already" in run("backup", tmp_path / "monday.zip", store=address, code=2)
    assert "must be empty" in run("restore", tmp_path / "monday.zip", store=address, code=2)
    other = f"sqlite:///{tmp_path}/other.sqlite"
    assert "values are restored" in run("restore", tmp_path / "monday.zip", "--store", other, store=address)
    with open_store(other) as store:
        assert everything(store) == before
    assert "Rowan Millbeck" in run("export", "millbeck", tmp_path / "rowan.zip", store=address)
    assert "export: " in run("export", "millbeck", tmp_path / "rowan.zip", store=address, code=2)
    assert (tmp_path / "rowan.zip").stat().st_mode & 0o077 == 0
    with zipfile.ZipFile(tmp_path / "rowan.zip") as packed:
        assert packed.testzip() is None
    assert "give the number: 1 Rowan Millbeck, 2 Zoë" in run("forget", "example.org", store=address, code=2)
    assert "is not in the store" in run("forget", "nobody", store=address, code=2)
    assert "say so with --yes" in run("forget", "1", store=address, code=2)
    with open_store(address) as store:
        assert everything(store) == before
    told = run("forget", "1", "--yes", store=address)
    assert "1 measurements of the body" in told
    assert "backups and exports made before today" in told
    with open_store(address) as store:
        assert store.clients("millbeck") == ()
    assert "client: 999 is not in the store" in run("forget", "999", "--yes", store=address, code=2)
    away = "postgresql://maker:thimble@/shop?host=/nowhere"
    assert "thimble" not in run("backup", tmp_path / "away.zip", store=away, code=2)


def test_a_table_is_never_left_out_of_a_backup():
    from pleatwright.shop.store.tables import metadata

    assert set(metadata.tables) == {table.name for table in TABLES.values()}


@pytest.mark.parametrize("command", ["backup", "export", "forget"])
def test_a_store_that_is_not_there_is_never_made_by_asking_for_it(run: Run, tmp_path: Path, command: str):
    typo = f"sqlite:///{tmp_path}/typo.sqlite"
    asked = {"backup": ["out.zip"], "export": ["1", "out.zip"], "forget": ["1", "--yes"]}[command]
    asked = [str(tmp_path / one) if one.endswith(".zip") else one for one in asked]
    said = run(command, *asked, "--store", typo, store=f"sqlite:///{tmp_path}/store.sqlite", code=2)
    assert "typo.sqlite is not there; name the store that is kept" in said
    assert list(tmp_path.iterdir()) == []


def test_a_restore_that_fails_leaves_no_store_behind(run: Run, tmp_path: Path):
    no_backup = tmp_path / "letter.zip"
    no_backup.write_text("Dear client")
    new = f"sqlite:///{tmp_path}/new.sqlite"
    assert "is no backup" in run("restore", no_backup, store=new, code=2)
    assert "cannot be read" in run("restore", tmp_path / "gone.zip", store=new, code=2)
    assert list(tmp_path.iterdir()) == [no_backup]
    with open_store(new) as store:
        fill(store)
        before = everything(store)
    assert "is no backup" in run("restore", no_backup, store=new, code=2)
    with open_store(new) as store:
        assert everything(store) == before


def test_an_address_is_refused_by_the_name_it_was_given_under(run: Run, tmp_path: Path):
    kept = f"sqlite:///{tmp_path}/store.sqlite"
    said = run("backup", tmp_path / "a.zip", "--store", f"{tmp_path}/store.sqlite", store=kept, code=2)
    assert f'--store: "{tmp_path}/store.sqlite" names no database' in said
    assert f"write sqlite:///{tmp_path}/store.sqlite" in said
    assert "PLEATWRIGHT_DATABASE_URL: " in run("backup", tmp_path / "a.zip", store="store.sqlite", code=2)
    secret = run("backup", tmp_path / "a.zip", "--store", "maker:thimble@shop", store=kept, code=2)
    assert "thimble" not in secret


def test_an_empty_database_is_no_store_to_back_up(postgres: str, run: Run, tmp_path: Path):
    from sqlalchemy import create_engine, inspect, text

    address = postgres.format("postgres")
    engine = create_engine(
        address.replace("postgresql://", "postgresql+psycopg://"), isolation_level="AUTOCOMMIT"
    )
    with engine.connect() as connection:
        connection.execute(text("CREATE DATABASE never_used"))
    engine.dispose()
    empty = postgres.format("never_used")
    assert "is not there" in run("backup", tmp_path / "a.zip", store=empty, code=2)
    engine = create_engine(empty.replace("postgresql://", "postgresql+psycopg://"))
    assert inspect(engine).get_table_names() == []
    engine.dispose()
