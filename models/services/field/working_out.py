"""Work out again what a stored verdict rests on: its reason, working and sources."""

from collections.abc import Sequence
from typing import Any, Protocol
from uuid import UUID

from models.judging.rules import rests_on_memory
from models.schema import Judgement, Reading, StoredRule
from models.services.field.judge_card import bodies, numbers_of
from models.services.keeping.rules import read_rule

Body = dict[str, Any]
NEWEST = 2**62  # later than every log entry


class Recorded(Protocol):
    """The readings of one card."""

    @property
    def readings(self) -> list[Reading]: ...  # noqa: D102


class WorkingOut:
    """The judgements of one card in words, each worked out when it is asked for.

    A reading may be compared with others of its group. The members are those that
    held when the judgement last held itself: until it was followed by another, or
    the reading by a retest; each by its rule at that time.
    """

    def __init__(self, card: Recorded) -> None:
        self._card = card
        self._known: dict[Any, dict[UUID, Body]] = {}

    def __call__(self, judgement: Judgement) -> Body:
        """Return the judgement as `witnessmark judge` prints it.

        Verdict and numbers are those that were stored.
        """
        reading = judgement.reading
        members = self._members(reading, self._until(judgement))
        key = tuple((one.id, rule.digest) for one, rule in members)
        if key not in self._known:
            self._known[key] = _worked_out(members)
        return self._known[key][reading.id] | numbers_of(judgement)

    def recalled(self, judgement: Judgement) -> bool:
        """Return whether a figure behind the verdict is from memory."""
        cited = judgement.judged_by.body["cite"]
        return rests_on_memory(cited) and rests_on_memory(self(judgement)["cite"])

    def _until(self, judgement: Judgement) -> int:
        """Return the number of the last log entry while *judgement* held."""
        reading = judgement.reading
        ends = [j.log_seq for j in reading.judgements if j.seq > judgement.seq]
        ends += [r.arrived for r in self._retests(reading)]
        return min(ends, default=NEWEST) - 1

    def _retests(self, reading: Reading) -> list[Reading]:
        return [
            r
            for r in self._card.readings
            if r.supersedes_id == reading.id and r.judgements
        ]

    def _members(
        self, reading: Reading, until: int
    ) -> list[tuple[Reading, StoredRule]]:
        """Return the readings of the group that held then, each with its rule."""
        group = reading.point.group
        there = [
            one
            for one in self._card.readings
            if one.point.group == group and one.judgements and one.arrived <= until
        ]
        superseded = {one.supersedes_id for one in there}
        return [
            (one, [j for j in one.judgements if j.log_seq <= until][-1].judged_by)
            for one in there
            if one.id not in superseded
        ]


def _worked_out(members: Sequence[tuple[Reading, StoredRule]]) -> dict[UUID, Body]:
    rows = [row for row, _ in members]
    found = bodies(rows, [read_rule(rule) for _, rule in members])
    return {row.id: body for row, body in zip(rows, found, strict=True)}
