"""Ratings of a lineup and of what stands in it, beside each other and in print.

Nothing here blocks: gear of other ratings is built every day. What a remark says is
worth a second look at the plate.
"""

from models.record.ratings.all_remarks import ratings_remarks
from models.record.ratings.remark import (
    AS_PUBLISHED,
    LOOK_AGAIN,
    NOT_CHECKED,
    Remark,
)

__all__ = ["AS_PUBLISHED", "LOOK_AGAIN", "NOT_CHECKED", "Remark", "ratings_remarks"]
