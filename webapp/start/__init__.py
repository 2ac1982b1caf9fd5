"""Start: the set-up of an empty installation, its first steps, and how it stands."""

from webapp.start import installation_routes, set_up_routes
from webapp.start.routes import bp
from webapp.start.set_up_first import init_set_up_first

__all__ = ["bp", "init_set_up_first", "installation_routes", "set_up_routes"]
