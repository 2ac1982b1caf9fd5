"""Set-up: owners, sites, and lineups entered on their front elevation."""

from webapp.setup import (
    editor_routes,
    import_routes,
    lineup_routes,
    owner_routes,
    safety_routes,
    site_routes,
    table_routes,
)
from webapp.setup.routes import bp

__all__ = [
    "bp",
    "editor_routes",
    "import_routes",
    "lineup_routes",
    "owner_routes",
    "safety_routes",
    "site_routes",
    "table_routes",
]
