"""Readings from files of test sets: send one, choose its columns, look, record."""

from webapp.readings_file import add_routes, round_routes, routes

bp = routes.bp

__all__ = ["add_routes", "bp", "round_routes", "routes"]
