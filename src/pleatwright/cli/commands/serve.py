"""serve: the workshop app in the browser."""

from __future__ import annotations

from typing import Annotated

import typer

from pleatwright.cli.app import StoreOption, app, refuse
from pleatwright.cli.terminal import say, screen
from pleatwright.errors import Problem

PORT = 8642


@app.command()
def serve(
    port: Annotated[int, typer.Option(min=0, max=65535, help="Port; 0 takes any that is free.")] = PORT,
    lan: Annotated[
        bool, typer.Option("--lan", help="Let other devices in, each paired with a code that is shown here.")
    ] = False,
    certificate: Annotated[
        bool,
        typer.Option(
            "--certificate", help="With --lan: encrypt, with a certificate made and kept on this machine."
        ),
    ] = False,
    browser: Annotated[
        bool, typer.Option("--browser/--no-browser", help="Open this machine's own browser.")
    ] = True,
    store: StoreOption = None,
) -> None:
    """Serve the workshop app on this machine: orders, cloth, table mode, in the browser.

    The link it prints and opens lets one browser in; every other one enters a code that is shown here.

    Example: pleatwright serve
    """
    from pleatwright.shop.store import default_file, open_store
    from pleatwright.web.serving import Serving, listen

    if certificate and not lan:
        refuse(Problem("--certificate", "no --lan", "is given", "on this machine itself none is needed"))
    try:
        listener = listen(port, lan=lan)
    except OSError as error:
        reason = (error.strerror or str(error)).lower()
        fix = "it may be running already; or name another with --port"
        refuse(Problem("--port", str(port), f"cannot be listened on ({reason})", fix))

    def tell(code: str) -> None:
        screen.print("Code for the next browser: ", end="")
        screen.print(f"[bold]{code[:4]} {code[4:]}[/]")

    with listener, open_store(store) as kept:
        folder = default_file().parent / "certificate" if certificate else None
        serving = Serving(kept, listener, lan=lan, tell=tell, certificates=folder)
        link = serving.link()
        say("The workshop is open. This link lets one browser in, once:")
        screen.print(link, soft_wrap=True, highlight=False)
        say(f"There bookmark {serving.addresses[0]}")
        say("Any other browser is asked for a code, which is then shown here.")
        for address in serving.addresses[1:]:
            say(f"Other devices open {address}")
        if serving.certified is not None:
            say(f"Put the certificate on each tablet once, from {serving.addresses[-1]}authority.crt")
            say(f"There it must show the fingerprint (SHA-256) {serving.certified.fingerprint}")
        say("Ctrl+C closes it.")
        if browser:
            open_browser(link)
        serving.run()


def open_browser(link: str) -> None:
    """Open the link in this machine's own browser, where it has a screen; some take their time to start."""
    import os
    import sys
    import threading
    import webbrowser

    if sys.platform in ("darwin", "win32") or os.environ.get("DISPLAY") or os.environ.get("WAYLAND_DISPLAY"):
        threading.Thread(target=webbrowser.open, args=(link,), daemon=True).start()
