"""Placing one kilt along the piece, searching all candidates, ranking them with reasons."""

from pleatwright.layout.advice import ClothToOrder, cloth_for
from pleatwright.layout.field import Candidate
from pleatwright.layout.front import Compromise, nondominated
from pleatwright.layout.option import Apron, ApronEdge, ClothMap, Join, Option, PleatLevel, Strip
from pleatwright.layout.placing import Frame, Placement, place
from pleatwright.layout.plan import Plan, make_plan, search_of, sensitivities
from pleatwright.layout.relaid import relaid
from pleatwright.layout.request import Request
from pleatwright.layout.robust import Bearing, Sensitivity
from pleatwright.layout.scoring import Points
from pleatwright.layout.search import Search
from pleatwright.layout.what_if import Answer, Difference, WhatIf, Wish, differences, what_if

__all__ = [
    "Answer",
    "Apron",
    "ApronEdge",
    "Bearing",
    "Candidate",
    "ClothMap",
    "ClothToOrder",
    "Compromise",
    "Difference",
    "Frame",
    "Join",
    "Option",
    "Placement",
    "Plan",
    "PleatLevel",
    "Points",
    "Request",
    "Search",
    "Sensitivity",
    "Strip",
    "WhatIf",
    "Wish",
    "cloth_for",
    "differences",
    "make_plan",
    "nondominated",
    "place",
    "relaid",
    "search_of",
    "sensitivities",
    "what_if",
]
