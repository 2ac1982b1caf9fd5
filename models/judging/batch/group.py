"""The lowest reading of each group."""

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from models.judging.batch.codes import Codes, Mask, Numbers
from models.judging.batch.gates import at_least


class Contenders(NamedTuple):
    """Readings that can be judged and so may be the lowest of their group.

    Numbers as `State` has them: U and U over the value are NaN where not known.
    """

    rows: NDArray[np.intp]
    low: Numbers
    high: Numbers
    expanded: Numbers
    relative: Numbers


class Lowest(NamedTuple):
    """For each of *rows*, which have company, the `Lowest` of its group."""

    rows: NDArray[np.intp]
    own: Mask  # whether the lowest is the row itself
    low: Numbers
    high: Numbers
    expanded: Numbers  # U of the lowest
    # The greatest U of those that may be the lowest, over the value and as it is; NaN
    # where it is not known for all of them.
    relative: Numbers
    absolute: Numbers

    def part(self, rows: NDArray[np.intp]) -> "Lowest":
        """Return what falls to some of the rows, which rise, by their places."""
        places = np.searchsorted(rows, self.rows)
        there = np.append(rows, -1)[places] == self.rows
        return Lowest(places[there], *(column[there] for column in self[1:]))


def lowest_of(group: Codes, among: Contenders) -> Lowest:
    """Return the lowest of each group for those of *among* that have company."""
    keys = group[among.rows] if group.ndim else group.repeat(len(among.rows))
    order = np.lexsort((among.low, among.high, keys))
    order = order[keys[order] >= 0]
    _, begins, members = np.unique(keys[order], return_index=True, return_counts=True)
    order = order[np.repeat(members > 1, members)]
    members = members[members > 1]
    begins = np.cumsum(members) - members
    first = np.repeat(order[begins], members)
    low, high = among.low[order], among.high[first]
    may_be = at_least(high, low)
    relative = np.where(may_be, among.relative[order], 0.0)
    absolute = np.where(may_be, among.expanded[order], 0.0)
    return Lowest(
        among.rows[order],
        order == first,
        one_number(_of_each(np.minimum, low, begins, members), high),
        high,
        among.expanded[first],
        _of_each(np.maximum, relative, begins, members),
        _of_each(np.maximum, absolute, begins, members),
    )


def one_number(low: Numbers, high: Numbers) -> Numbers:
    """Return the lower ends of the lowest, the upper one where the two are near."""
    ends: Numbers = np.where(at_least(low, high), high, low)
    return ends


def _of_each(
    least: np.ufunc,
    column: Numbers,
    begins: NDArray[np.intp],
    members: NDArray[np.intp],
) -> Numbers:
    """Return for each row the least, or the greatest, of its group."""
    if not members.size:
        return column
    return np.repeat(least.reduceat(column, begins), members)
