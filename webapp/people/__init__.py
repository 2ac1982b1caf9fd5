"""People: list, invite, roles, sites, links, and the page on which one enrols."""

from webapp.people import enrol_routes, person_routes
from webapp.people.routes import bp

__all__ = ["bp", "enrol_routes", "person_routes"]
