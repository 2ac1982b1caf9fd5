"""Owner: gear books, trends, packages to accept."""

from webapp.owner import accept_routes
from webapp.owner.routes import bp

__all__ = ["accept_routes", "bp"]
