"""Templates on paper, and as drawings for a cutting machine."""

from pleatwright.sheets.templates.card import card, card_page
from pleatwright.sheets.templates.pages import template_pages
from pleatwright.sheets.templates.paper import Paper, SheetName, paper_of

__all__ = ["Paper", "SheetName", "card", "card_page", "paper_of", "template_pages"]
