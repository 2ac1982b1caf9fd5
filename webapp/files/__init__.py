"""Files: what people attached, sent as what it is; the list that any page includes."""

from webapp.files import export_routes
from webapp.files.routes import bp

__all__ = ["bp", "export_routes"]
