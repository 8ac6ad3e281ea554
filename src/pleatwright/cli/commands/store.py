"""store: a copy of all that is kept, and what a client may ask for."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from pleatwright.cli.app import StoreOption, app, refuse
from pleatwright.cli.terminal import say
from pleatwright.errors import Problem

if TYPE_CHECKING:
    from pleatwright.shop.store import Client, Store

group = typer.Typer(
    no_args_is_help=True, help="The workshop's store: back it up, restore it, export or forget a client."
)
app.add_typer(group, name="store")

ClientArgument = Annotated[str, typer.Argument(help="The client: a number, or enough of the name.")]


@group.command()
def backup(
    file: Annotated[Path, typer.Argument(help="The file to write.")], store: StoreOption = None
) -> None:
    """Write all that is kept to one new file; the work at the benches goes on meanwhile.

    Example: pleatwright store backup monday.zip
    """
    from pleatwright.shop.store import open_store, write_backup

    with open_store(store, new=False) as kept:
        count = write_backup(kept, file)
    say(f"{file} is written, with {count} values in it. It holds people's measurements: keep it locked away.")


@group.command()
def restore(file: Annotated[Path, typer.Argument(help="A backup.")], store: StoreOption = None) -> None:
    """Bring back a backup into an empty store, whole or not at all.

    Example: pleatwright store restore monday.zip
    """
    from pleatwright.shop.store import restore_backup

    count = restore_backup(store, file)
    say(f"{count} values are restored from {file}.")


@group.command()
def export(
    client: ClientArgument,
    file: Annotated[Path, typer.Argument(help="The file to write (zip).")],
    store: StoreOption = None,
) -> None:
    """Write all that is kept about one client to one file, for the client.

    Example: pleatwright store export 12 client-12.zip
    """
    from pleatwright.shop.store import client_bundle, open_store, private_file

    with open_store(store, new=False) as kept:
        found = _client(kept, client)
        with private_file(file, "export") as out:
            out.write(client_bundle(kept, found.id))
    say(f"{file} is written, with all that is kept about {found.name}.")


@group.command()
def forget(
    client: ClientArgument,
    store: StoreOption = None,
    yes: Annotated[bool, typer.Option("--yes", help="Do it; it cannot be undone.")] = False,
) -> None:
    """Erase a client's name, contact and measurements; the figures that accounts need stay.

    Example: pleatwright store forget 12 --yes
    """
    from pleatwright.shop.store import forget_client, open_store

    with open_store(store, new=False) as kept:
        found = _client(kept, client)
        if not yes:
            seen = f"client {found.id}, {found.name},"
            refuse(Problem("client", seen, "would be erased for good", "say so with --yes"))
        done = forget_client(kept, found.id)
    for title, lines in (("Erased:", done.erased), ("Kept:", done.stays)):
        say(title)
        for line in lines:
            say(f"  {line}")


def _client(store: Store, named: str) -> Client:
    """The client of a number or of part of a name; raises InputError where it is none or several."""
    from pleatwright.shop.store import Client

    if named.isascii() and named.isdigit():
        return store.get(Client, int(named))
    found = store.clients(named, limit=6)
    if not found:
        refuse(Problem("client", f'"{named}"', "is not in the store", "give the number, or less of the name"))
    if len(found) > 1:
        listed = ", ".join(f"{one.id} {one.name}" for one in found[:5]) + ("..." if len(found) > 5 else "")
        refuse(Problem("client", f'"{named}"', "may be several", f"give the number: {listed}"))
    return found[0]
