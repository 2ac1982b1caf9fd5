"""Apparatus as things: look for one, its plate and places, moves, the spare shelf."""

from webapp.gear import plate_routes
from webapp.gear.routes import bp

__all__ = ["bp", "plate_routes"]
