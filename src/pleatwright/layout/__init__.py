"""Placing one kilt along the piece, searching all candidates, ranking them with reasons."""

from pleatwright.layout.advice import ClothToOrder
from pleatwright.layout.field import Candidate
from pleatwright.layout.option import Apron, ApronEdge, ClothMap, Join, Option, PleatLevel, Strip
from pleatwright.layout.placing import Frame, Placement, place
from pleatwright.layout.plan import Plan, make_plan, search_of
from pleatwright.layout.request import Request
from pleatwright.layout.scoring import Points
from pleatwright.layout.search import Search

__all__ = [
    "Apron",
    "ApronEdge",
    "Candidate",
    "ClothMap",
    "ClothToOrder",
    "Frame",
    "Join",
    "Option",
    "Placement",
    "Plan",
    "PleatLevel",
    "Points",
    "Request",
    "Search",
    "Strip",
    "make_plan",
    "place",
    "search_of",
]
