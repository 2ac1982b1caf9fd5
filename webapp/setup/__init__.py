"""Set-up: owners, sites, and lineups entered on their front elevation."""

from webapp.setup import import_routes, owner_routes, site_routes, table_routes
from webapp.setup.routes import bp

__all__ = ["bp", "import_routes", "owner_routes", "site_routes", "table_routes"]
