"""Altering a finished kilt: ours from its order, or anyone's from its measurements."""

from pleatwright.bench.alter.plan import Alteration, Verdict, Wanted, alter
from pleatwright.bench.alter.step import Step
from pleatwright.bench.closing.kilt import Kilt, Side, kilt_of

__all__ = ["Alteration", "Kilt", "Side", "Step", "Verdict", "Wanted", "alter", "kilt_of"]
