"""The shop counter: the catalogue, the choice of packs, and the money.

From the ground up: money and measures; the fields and entries of a catalogue, and the catalogue itself;
the exact choice in whole numbers (runs, bounds, search, choice); what can be bought (offers); the purchase (cover).
"""

from .catalogue import Catalogue, check, load
from .cover import (
    Comparison,
    Line,
    Need,
    Purchase,
    Shortfall,
    Together,
    compare,
    cover,
    cover_all,
    nearest_smaller,
    one_fewer,
    order,
    smaller_than,
    within_budget,
)
from .mistakes import CatalogueError, Mistake
from .money import MoneyError
from .offers import Offer, OfferError, Offers, offers, stated

__all__ = [
    "Catalogue",
    "CatalogueError",
    "Comparison",
    "Line",
    "Mistake",
    "MoneyError",
    "Need",
    "Offer",
    "OfferError",
    "Offers",
    "Purchase",
    "Shortfall",
    "Together",
    "check",
    "compare",
    "cover",
    "cover_all",
    "load",
    "nearest_smaller",
    "offers",
    "one_fewer",
    "order",
    "smaller_than",
    "stated",
    "within_budget",
]
