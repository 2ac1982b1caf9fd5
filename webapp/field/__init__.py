"""The field area: a round on a tablet, from one document, to entries with own keys."""

from webapp.field import news_routes, photographs, shell_routes, tablet_routes
from webapp.field.routes import bp

__all__ = ["bp", "news_routes", "photographs", "shell_routes", "tablet_routes"]
