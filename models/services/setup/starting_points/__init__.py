"""Starting points: a full draft of a lineup from a few answers."""

from models.services.setup.starting_points.lay_out import Answers, lay_out
from models.services.setup.starting_points.points import (
    Point,
    holds_of,
    likely_cells,
    points,
    tag_of,
)
from models.services.setup.starting_points.rated_rows import RatedRow, rated_rows

__all__ = [
    "Answers",
    "Point",
    "RatedRow",
    "holds_of",
    "lay_out",
    "likely_cells",
    "points",
    "rated_rows",
    "tag_of",
]
