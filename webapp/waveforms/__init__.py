"""Times measured in waveform records: send one, choose on the drawing, record."""

from webapp.waveforms import add_routes, curve_routes, routes

bp = routes.bp

__all__ = ["add_routes", "bp", "curve_routes", "routes"]
