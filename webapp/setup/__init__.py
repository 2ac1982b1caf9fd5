"""Set-up: owners, sites, and lineups entered on their front elevation."""

from webapp.setup import (
    editor_routes,
    lineup_routes,
    owner_routes,
    plate_routes,
    site_routes,
)
from webapp.setup.routes import bp

__all__ = [
    "bp",
    "editor_routes",
    "lineup_routes",
    "owner_routes",
    "plate_routes",
    "site_routes",
]
