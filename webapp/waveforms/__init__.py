"""Times measured in waveform records: send one, choose on the drawing, record."""

from webapp.waveforms import add_routes, routes

bp = routes.bp

__all__ = ["add_routes", "bp", "routes"]
