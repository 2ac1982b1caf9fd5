"""The lowest reading of every group of a file whose rows were seen part by part.

Of each part only those readings are kept that may still be the lowest of their group
or decide its uncertainty; once the file is read, a row a group is left.
"""

import tempfile
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from models.analysis.typed_rows import DIGEST, Places, Rows
from models.judging.batch import Contenders, Lowest
from models.judging.batch.group import one_number

KEPT = np.dtype(
    [
        ("group", f"S{DIGEST}"),
        ("row", "i8"),
        ("members", "i8"),  # that this one stands for
        ("low", "f8"),
        ("high", "f8"),
        ("expanded", "f8"),
        ("relative", "f8"),
    ]
)
FOUND = np.dtype(
    [
        ("group", f"S{DIGEST}"),
        ("members", "i8"),
        # Rows: the lowest, any other, that of the least bound, those of the greatest U,
        # over the value and as it is.
        ("first", "i8"),
        ("other", "i8"),
        ("least", "i8"),
        ("widest", "i8"),
        ("widest_absolute", "i8"),
        ("low", "f8"),
        ("high", "f8"),
        ("expanded", "f8"),
        ("relative", "f8"),
        ("absolute", "f8"),
    ]
)
MEMBER = np.dtype([("group", f"S{DIGEST}"), ("row", "i8")])
AT_ONCE = 1 << 19  # readings looked through in one go: 36 MiB of them
DELEGATES = ("first", "other", "least", "widest", "widest_absolute")


class _Ordered(NamedTuple):
    """Contenders by group, the lowest of each group first."""

    kept: NDArray[np.void]
    begins: Places
    sizes: Places

    def of_each(self, name: str) -> NDArray[np.generic]:
        """Return a field of the lowest for each of its group."""
        return np.repeat(self.kept[name][self.begins], self.sizes)


class Groups(NamedTuple):
    """What is known of the groups of a file: their lowest, and who is in some."""

    table: NDArray[np.void]
    members: NDArray[np.void]

    def members_of(self, group: np.bytes_) -> Places:
        """Return the rows of a group that is counted; none of another."""
        low = np.searchsorted(self.members["group"], group)
        high = np.searchsorted(self.members["group"], group, side="right")
        return np.asarray(self.members["row"][low:high], np.intp)


class KnownGroups:
    """Takes contenders part by part, and gives the lowest of each group."""

    def __init__(self) -> None:
        """Begin without groups."""
        self._file = tempfile.TemporaryFile()  # noqa: SIM115 (closed by `close`)
        self._members = tempfile.TemporaryFile()  # noqa: SIM115 (as well)
        self._count = 0

    def close(self) -> None:
        """Remove the temporary files."""
        self._file.close()
        self._members.close()

    def add(
        self, rows: Rows, start: int, among: Contenders, *, counted: bool = False
    ) -> None:
        """Add the readings of one rule in a part that begins with row *start*.

        *counted*: the rule counts its group, so that words need all of its members.
        """
        if counted:
            members = np.zeros(len(among.rows), MEMBER)
            members["group"] = rows["group"][among.rows]
            members["row"] = among.rows + start
            self._members.write(members.tobytes())
        kept = np.zeros(len(among.rows), KEPT)
        kept["group"] = rows["group"][among.rows]
        kept["row"] = among.rows + start
        kept["members"] = 1
        for name in ("low", "high", "expanded", "relative"):
            kept[name] = getattr(among, name)
        rows["contends"][among.rows] = 1
        kept = _candidates(_ordered(kept))
        self._count += len(kept)
        self._file.write(kept.tobytes())

    def found(self) -> Groups:
        """Return what was found, once every reading was added."""
        return Groups(self._lowest(), self._counted())

    def _lowest(self) -> NDArray[np.void]:
        """Return the groups of two and more, in the order of their digests."""
        shares = self._count // AT_ONCE + 1
        found = [self._share(share, shares) for share in range(shares)]
        table = np.concatenate(found)
        return table[np.argsort(table["group"], kind="stable")]

    def _counted(self) -> NDArray[np.void]:
        """Return the members of groups that are counted, group by group, as they came.

        24 bytes each; what a part has of its groups whole it needs no other row for.
        """
        self._members.seek(0)
        found = np.frombuffer(self._members.read(), MEMBER)
        return found[np.argsort(found["group"], kind="stable")]

    def _share(self, share: int, shares: int) -> NDArray[np.void]:
        self._file.seek(0)
        kept = [np.zeros(0, KEPT)]
        while block := self._file.read(KEPT.itemsize * AT_ONCE):
            some = np.frombuffer(block, KEPT)
            digests = np.ascontiguousarray(some["group"])
            heads = digests.view(np.uint64)[:: DIGEST // 8]
            kept.append(some[heads % shares == share])
        return _summed(_ordered(np.concatenate(kept)))


def _ordered(kept: NDArray[np.void]) -> _Ordered:
    order = np.lexsort((kept["row"], kept["low"], kept["high"], kept["group"]))
    kept = kept[order]
    _, begins, sizes = np.unique(kept["group"], return_index=True, return_counts=True)
    return _Ordered(kept, begins, sizes)


def _candidates(ordered: _Ordered) -> NDArray[np.void]:
    """Return the lowest of each group, those that may be it or decide its U."""
    kept, begins, sizes = ordered
    if not len(kept):
        return kept
    members = np.add.reduceat(kept["members"], begins)
    kept["members"] = 0
    kept["members"][begins] = members
    matters = kept["low"] <= ordered.of_each("high")
    alike = kept[["group", "low", "high", "expanded"]]
    again = alike[1:] == alike[:-1]
    matters[1:] &= ~again
    matters[begins] = True
    matters[(begins + 1)[sizes > 1]] = True  # the lowest has company
    return kept[matters]


def _summed(ordered: _Ordered) -> NDArray[np.void]:
    kept, begins, sizes = ordered
    found = np.zeros(len(begins), FOUND)
    if not len(kept):
        return found
    first = kept[begins]
    for name in ("group", "high", "expanded"):
        found[name] = first[name]
    found["first"] = first["row"]
    found["other"] = kept["row"][begins + (sizes > 1)]
    found["members"] = np.add.reduceat(kept["members"], begins)
    found["low"] = np.minimum.reduceat(kept["low"], begins)
    may_be = kept["low"] <= ordered.of_each("high")
    found["least"] = _leading(ordered, kept["low"])
    for name, field, row in (
        ("relative", "relative", "widest"),
        ("absolute", "expanded", "widest_absolute"),
    ):
        u = np.where(may_be, kept[field], 0.0)
        found[name] = np.maximum.reduceat(u, begins)
        # What is not known is more than any number; what cannot be the lowest is less.
        width = np.where(np.isnan(u), np.inf, u)
        found[row] = _leading(ordered, np.where(may_be, -width, 1.0))
    return found[found["members"] > 1]


def _leading(ordered: _Ordered, by: NDArray[np.float64]) -> NDArray[np.int64]:
    """Return for each group the row in which *by* is least."""
    kept, begins, _ = ordered
    order = np.lexsort((by, kept["group"]))
    return np.asarray(kept["row"][order][begins], np.int64)


class Company(NamedTuple):
    """What the rows of a part are compared with: *at* are places in the table."""

    lowest: Lowest
    at: Places


def company_of(table: NDArray[np.void], rows: Rows, start: int) -> Company:
    """Return the lowest of its group for each row that has company."""
    here = np.flatnonzero(rows["contends"])
    digests = rows["group"][here]
    at = np.searchsorted(table["group"], digests)
    known = np.append(table["group"], b"")[at] == digests
    here, at = here[known], at[known]
    found = table[at]
    lowest = Lowest(
        here,
        found["first"] == here + start,
        one_number(found["low"], found["high"]),
        found["high"],
        found["expanded"],
        found["relative"],
        found["absolute"],
    )
    return Company(lowest, at)
