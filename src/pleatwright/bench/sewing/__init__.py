"""The sewing log's arithmetic: sew, measure, correct."""

from pleatwright.bench.sewing.aims import aims
from pleatwright.bench.sewing.begin import begun
from pleatwright.bench.sewing.belief import Belief, Expected, Stretch
from pleatwright.bench.sewing.change import Change
from pleatwright.bench.sewing.changed import changed_findings
from pleatwright.bench.sewing.gives import Give, Hand
from pleatwright.bench.sewing.kilt import Kilt, KiltLevel, kilt_of
from pleatwright.bench.sewing.log import (
    Corrected,
    Entry,
    Fitted,
    Measured,
    Noted,
    SewingLog,
    Stage,
    Staged,
    Started,
    Told,
    Undone,
)
from pleatwright.bench.sewing.maker import SEWN_LEVELS, Maker, Sewn, Target, maker_of, targets_of
from pleatwright.bench.sewing.outlook import Follow, Outlook, expected_reading, outlook, unpicked
from pleatwright.bench.sewing.spreading import Limits, bounds, respread, set_apart
from pleatwright.bench.sewing.standing import NextPleat, Standing, doubt_about, hand_of, standing, telling
from pleatwright.bench.sewing.words import SewingWords

__all__ = [
    "SEWN_LEVELS",
    "Belief",
    "Change",
    "Corrected",
    "Entry",
    "Expected",
    "Fitted",
    "Follow",
    "Give",
    "Hand",
    "Kilt",
    "KiltLevel",
    "Limits",
    "Maker",
    "Measured",
    "NextPleat",
    "Noted",
    "Outlook",
    "SewingLog",
    "SewingWords",
    "Sewn",
    "Stage",
    "Staged",
    "Standing",
    "Started",
    "Stretch",
    "Target",
    "Told",
    "Undone",
    "aims",
    "begun",
    "bounds",
    "changed_findings",
    "doubt_about",
    "expected_reading",
    "hand_of",
    "kilt_of",
    "maker_of",
    "outlook",
    "respread",
    "set_apart",
    "standing",
    "targets_of",
    "telling",
    "unpicked",
]
