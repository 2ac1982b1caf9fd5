"""Planning: a round before it is opened, and its people and days while it is."""

from webapp.planning import card_routes, change_routes, round_routes
from webapp.planning.routes import bp

__all__ = ["bp", "card_routes", "change_routes", "round_routes"]
