"""Scenes that are drawn twice, in Python and in the browser, and how they are compared.

The two drawings differ in size. What is held to one answer is where things lie on their
scale: 0 is its beginning, 1 its end.
"""

import json
from pathlib import Path
from typing import Any

from models.judging.series import SERIES, parse_series
from tests.webapp.drawing.sample_drawings import relay_rule
from webapp.drawing import (
    Plate,
    Row,
    Timed,
    elevation,
    limit_strip,
    series_curve,
    time_current,
)
from webapp.drawing.shapes import Circle, Line, Polyline, Rect, Text, shapes_of

SCENES: dict[str, list[dict[str, Any]]] = json.loads(
    Path(__file__).with_name("scenes.json").read_text("utf-8")
)
Places = dict[str, list[float]]


def strip_places(scene: dict[str, Any]) -> Places:
    """Return where the limits, the mark, its U and what is permitted lie."""
    among = scene.get("among", ())
    drawing = limit_strip(scene["judgement"], scene["text"], among=among)
    assert drawing is not None
    shapes = list(shapes_of(drawing.items))
    verdict = scene["judgement"]["verdict"]
    lines = [shape for shape in shapes if isinstance(shape, Line)]
    (scale,) = (line for line in lines if line.style == "scale")
    (area,) = (one for one in shapes if isinstance(one, Rect))
    (mark,) = (
        one
        for one in shapes
        if isinstance(one, Polyline) and one.style == f"{verdict}-mark"
    )
    exact = scene["text"][0] not in "<>"
    ends = [
        end
        for line in lines
        if exact and line.style == f"{verdict}-line" and line.y1 == line.y2
        for end in (line.x1, line.x2)
    ]

    def share(x: float) -> float:
        return (x - scale.x1) / (scale.x2 - scale.x1)

    return {
        "limits": [share(line.x1) for line in lines if line.style == "limit"],
        "mark": [share(sum(x for x, _ in mark.points) / len(mark.points))],
        "u": [share(end) for end in ends],
        "permitted": [share(area.x), share(area.x + area.width)],
    }


def series_places(scene: dict[str, Any]) -> Places:
    """Return where the readings of a row lie, from the left and from below."""
    steps = parse_series(scene["kind"], scene["row"])
    drawing = series_curve(SERIES[scene["kind"]], [Row(steps=steps)], scene["unit"])
    assert drawing is not None
    shapes = list(shapes_of(drawing.items))
    axis = next(
        one for one in shapes if isinstance(one, Polyline) and one.style == "axis"
    )
    (left, top), (_, bottom), (right, _) = axis.points
    marks = [one for one in shapes if isinstance(one, Circle)]
    return {
        "across": [(mark.x - left) / (right - left) for mark in marks],
        "up": [(bottom - mark.y) / (bottom - top) for mark in marks],
    }


def rule_of_curve(scene: dict[str, Any]) -> dict[str, Any]:
    """Return the relay's rule that a scene's curve is drawn by."""
    return relay_rule(**scene["subject"])


def curve_places(scene: dict[str, Any]) -> Places:
    """Return where the curve and the edges of its band lie, and the pickup."""
    timed = [
        Timed(label="", applied_a=amperes, seconds=float(text), verdict=verdict)
        for amperes, text, verdict in scene["timed"]
    ]
    drawing = time_current(rule_of_curve(scene), timed)
    assert drawing is not None
    shapes = list(shapes_of(drawing.items))
    (frame,) = (one for one in shapes if isinstance(one, Rect) and one.style == "scale")
    lines = [one for one in shapes if isinstance(one, Polyline)]
    (pickup,) = (
        one for one in shapes if isinstance(one, Line) and one.style == "limit-line"
    )

    def share(x: float, y: float) -> tuple[float, float]:
        below = frame.y + frame.height - y
        return (x - frame.x) / frame.width, below / frame.height

    (curve,) = (one for one in lines if one.style == "curve")
    lower, upper = (one for one in lines if one.style == "band-edge")
    places = {"curve": curve, "earliest": lower, "latest": upper}
    return {
        "pickup": [share(pickup.x1, 0)[0]],
        **{
            name: [at for point in line.points for at in share(*point)]
            for name, line in places.items()
        },
    }


def elevation_places(scene: dict[str, Any]) -> dict[str, Any]:
    """Return where cells, buses and bars lie, a cell being 1 wide, and the words."""
    drawing = elevation(
        [
            dict(zip(("number", "name", "kind", "bus"), cell, strict=True))
            for cell in scene["cells"]
        ],
        plates=[
            Plate(text=text, share=share, findings=[(word, n) for word, n in findings])
            for text, share, findings in scene["plates"]
        ],
        chosen=scene["chosen"],
    )
    shapes = list(shapes_of(drawing.items))
    boxes = [one for one in shapes if isinstance(one, Rect)]
    cells = [one for one in boxes if one.style in ("cell", "cell-chosen")]
    left, wide = min(one.x for one in cells), cells[0].width
    (track, *_) = (one for one in boxes if one.style == "track")
    return {
        "cells": [(one.x - left) / wide for one in cells],
        "chosen": [
            (one.x - left) / wide for one in cells if one.style == "cell-chosen"
        ],
        "buses": [
            (end - left) / wide
            for one in shapes
            if isinstance(one, Line) and one.style == "dimension" and one.y1 == one.y2
            for end in (one.x1, one.x2)
        ],
        "bars": [
            one.width / track.width for one in boxes if one.style in ("bar", "bar-done")
        ],
        "done": [one.style for one in boxes if one.style in ("bar", "bar-done")],
        "words": [
            one.text for one in shapes if isinstance(one, Text) and one.style != "label"
        ],
    }
