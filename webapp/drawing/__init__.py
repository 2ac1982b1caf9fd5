"""Drawings: pure geometry, made once and shown as SVG or on a PDF page."""

from webapp.drawing.characteristic import characteristic
from webapp.drawing.curve import time_current
from webapp.drawing.dial import dial
from webapp.drawing.elevation import Plate, elevation
from webapp.drawing.limit_strip import limit_strip
from webapp.drawing.seen import OnCard, on_card
from webapp.drawing.series_curve import Row, series_curve
from webapp.drawing.svg import svg
from webapp.drawing.symbols import symbols
from webapp.drawing.timed import Timed, fit_lines
from webapp.drawing.trend import Fitted, Seen, Series, trend

__all__ = [
    "Fitted",
    "OnCard",
    "Plate",
    "Row",
    "Seen",
    "Series",
    "Timed",
    "characteristic",
    "dial",
    "elevation",
    "fit_lines",
    "limit_strip",
    "on_card",
    "series_curve",
    "svg",
    "symbols",
    "time_current",
    "trend",
]
