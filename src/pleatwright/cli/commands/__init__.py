"""Every command, a file each; importing this folder makes them known to the application."""

from pleatwright.cli.commands import (
    alter,
    care,
    check,
    closing,
    gauges,
    guide,
    picture,
    plan,
    risk,
    sett,
    sewing,
    start,
    templates,
)

__all__ = [
    "alter",
    "care",
    "check",
    "closing",
    "gauges",
    "guide",
    "picture",
    "plan",
    "risk",
    "sett",
    "sewing",
    "start",
    "templates",
]
