"""Scenes that are drawn twice, in Python and in the browser, and how they are compared.

The two drawings differ in size. What is held to one answer is where things lie on their
scale: 0 is its beginning, 1 its end.
"""

import json
from pathlib import Path
from typing import Any

from webapp.drawing import limit_strip
from webapp.drawing.shapes import Line, Polyline, Rect, shapes_of

SCENES: dict[str, list[dict[str, Any]]] = json.loads(
    Path(__file__).with_name("scenes.json").read_text("utf-8")
)
Places = dict[str, list[float]]


def strip_places(scene: dict[str, Any]) -> Places:
    """Return where the limits, the mark, its U and what is permitted lie."""
    drawing = limit_strip(scene["judgement"], scene["text"])
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
