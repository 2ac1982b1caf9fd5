"""Readings that stand under the procedure in which they were taken before.

What was once read within another test may have become a test of its own. A card says
so (`was`): its trend then begins with what was read there. Nothing is rewritten.
"""

from collections.abc import Iterable, Mapping
from typing import Any

from models.services.owner.baseline import Place
from models.services.setup.programmes import was_of

Values = Mapping[Place, dict[str, Any]]


def with_earlier(
    values: Values, places: Iterable[Place]
) -> dict[Place, dict[str, Any]]:
    """Return a round's values with those of before at *places* that have none.

    Of the same apparatus and point, in the unit that the card says.
    """
    found = dict(values)
    for place in places:
        was = was_of(place[1], place[2])
        if was is None or place in found:
            continue
        for (apparatus, procedure, _, label), value in values.items():
            same = (apparatus, label) == (place[0], place[3])
            if same and (procedure, value["value_unit"]) == was:
                found[place] = value
    return found
