"""Every command, a file each; importing this folder makes them known to the application."""

from pleatwright.cli.commands import check, plan, sett, start

__all__ = ["check", "plan", "sett", "start"]
