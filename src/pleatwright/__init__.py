"""Pleatwright: from a client's measurements and a piece of tartan to a kilt marked for the rip."""

__version__ = "0.1.0"
