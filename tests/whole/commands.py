"""The command run by tests: in this process, or in one of its own."""

from __future__ import annotations

import gc
import subprocess
import sys
from contextlib import redirect_stderr, redirect_stdout
from dataclasses import dataclass
from io import StringIO

import pytest


@dataclass(frozen=True)
class Done:
    """What a command left behind."""

    returncode: int
    stdout: str
    stderr: str


def run(*arguments: object) -> Done:
    """The command in this process: importing it anew takes longer than most of what it does."""
    from pleatwright.cli import main

    out, err, code, rests = StringIO(), StringIO(), 0, gc.get_threshold()
    with pytest.MonkeyPatch.context() as patch, redirect_stdout(out), redirect_stderr(err):
        patch.setattr(sys, "argv", ["pleatwright", *map(str, arguments)])
        try:
            main()
        except SystemExit as stopped:
            code = int(stopped.code or 0)
        finally:
            gc.set_threshold(*rests)  # a command lets Python look less often for what nobody needs
    return Done(code, out.getvalue(), err.getvalue())


def run_anew(*arguments: object) -> subprocess.CompletedProcess[str]:
    """The command as a process of its own."""
    command = [sys.executable, "-m", "pleatwright", *map(str, arguments)]
    return subprocess.run(command, capture_output=True, text=True, check=False)
