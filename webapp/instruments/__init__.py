"""The register of instruments: what is due, what each can do, its calibrations."""

from webapp.instruments import change_routes, import_routes, routes

bp = routes.bp

__all__ = ["bp", "change_routes", "import_routes"]
