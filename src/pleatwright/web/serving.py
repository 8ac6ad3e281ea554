"""Serving the app: one socket, loopback unless other devices are let in; no log of what is asked for."""

from __future__ import annotations

import socket
from collections.abc import Callable
from contextlib import suppress
from datetime import UTC, datetime
from pathlib import Path

from pleatwright.shop.store import Store
from pleatwright.web.app import WebSettings, make_app
from pleatwright.web.certificate import Certified, certified

LOOPBACK_NAMES = ("localhost", "127.0.0.1", "::1")
ANYWHERE, HERE = "0.0.0.0", "127.0.0.1"
BACKLOG = 64


def listen(port: int, *, lan: bool) -> socket.socket:
    """A listening socket; raises OSError where the port is taken."""
    made = socket.socket(socket.AF_INET, socket.SOCK_STREAM)
    try:
        made.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        made.bind((ANYWHERE if lan else HERE, port))
        made.listen(BACKLOG)
    except OSError:
        made.close()
        raise
    return made


def own_addresses() -> tuple[str, ...]:
    """This machine's addresses and name in the workshop's network, the one it reaches others by first."""
    found: list[str] = []
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as probe, suppress(OSError):
        probe.connect(("192.0.2.1", 9))  # a documentation address: nothing is sent by connecting
        found.append(probe.getsockname()[0])
    name = socket.gethostname().lower()
    with suppress(OSError):
        found += socket.gethostbyname_ex(name)[2]
    return tuple(
        dict.fromkeys([*(one for one in found if not one.startswith("127.")), name, f"{name}.local"])
    )


class Serving:
    """The app on its socket; `tell` hears every new pairing code.

    `certificates`: the folder of this machine's own certificate, made there where it is missing; None serves
    without one.
    """

    def __init__(
        self,
        store: Store,
        listener: socket.socket,
        *,
        lan: bool,
        tell: Callable[[str], None],
        certificates: Path | None = None,
    ) -> None:
        self.listener, self.port = listener, listener.getsockname()[1]
        others = own_addresses() if lan else ()
        self.certified: Certified | None = None
        if certificates is not None:
            self.certified = certified(certificates, (*LOOPBACK_NAMES, *others), datetime.now(UTC))
        authority = b"" if self.certified is None else self.certified.authority.read_bytes()
        settings = WebSettings(
            hosts=(*LOOPBACK_NAMES, *others),
            lan=lan,
            secure=self.certified is not None,
            authority=authority,
            tell=tell,
        )
        self.app = make_app(store, settings)
        scheme = "http" if self.certified is None else "https"
        self.addresses = tuple(f"{scheme}://{host}:{self.port}/" for host in ("127.0.0.1", *others[:1]))

    def link(self) -> str:
        """A link that lets one browser of this machine in, once."""
        return f"{self.addresses[0]}open?key={self.app.state.house.sessions.link()}"

    def run(self) -> None:
        """Serve until it is interrupted."""
        import uvicorn

        config = uvicorn.Config(
            self.app,
            access_log=False,
            log_level="warning",
            server_header=False,
            proxy_headers=False,
            timeout_keep_alive=30,
            limit_concurrency=200,
            ssl_certfile=None if self.certified is None else self.certified.certificate,
            ssl_keyfile=None if self.certified is None else self.certified.key,
        )
        uvicorn.Server(config).run(sockets=[self.listener])
