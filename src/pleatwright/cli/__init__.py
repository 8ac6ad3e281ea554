"""The command line: read, call, show; nothing is computed here.

Exit codes: 0 done, 1 the plan has findings that stop the work, 2 bad input.
"""

from __future__ import annotations

import gc
import sys

RESTS = 100_000, 50, 100
"""How many new objects, and how many rounds, Python's search for circles of objects waits for.

A command makes much, keeps nearly all of it and is soon over: looking after every 700 took an eighth of its
time.
"""


INTERRUPTED = 128 + 2
"""The exit code where the work was interrupted: usual for the signal that Ctrl-C sends."""


def main() -> None:
    """Run the command line; heavy rooms are imported by the command that needs them."""
    if sys.argv[1:] == ["--version"]:
        import pleatwright

        sys.stdout.write(f"pleatwright {pleatwright.__version__}\n")
        return
    gc.set_threshold(*RESTS)
    try:
        import pleatwright.cli.commands  # makes the commands known
        from pleatwright.cli.app import run
    except KeyboardInterrupt:
        sys.exit(INTERRUPTED)
    run()
