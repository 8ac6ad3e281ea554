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
    serve,
    sett,
    sewing,
    start,
    store,
    templates,
    what_if,
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
    "serve",
    "sett",
    "sewing",
    "start",
    "store",
    "templates",
    "what_if",
]
