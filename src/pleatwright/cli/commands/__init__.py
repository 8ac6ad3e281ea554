"""Every command, a file each; importing this folder makes them known to the application."""

from pleatwright.cli.commands import check, picture, plan, sett, start

__all__ = ["check", "picture", "plan", "sett", "start"]
