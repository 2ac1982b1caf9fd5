"""How far a cell is: what its plate on the front elevation says."""

from collections.abc import Sequence
from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class CellProgress:
    """Words for the plate, and the share of the cell's cards that are signed."""

    text: str
    share: float  # 0 to 1


def cell_progress(states: Sequence[str]) -> CellProgress:
    """Return how far a cell is whose cards are in these states.

    A withdrawn card was not tested: with one among them a cell is never all signed.
    """
    signed, cards = states.count("signed"), len(states)
    if not cards:
        return CellProgress(text="no cards", share=0.0)
    if states.count("withdrawn") == cards:
        return CellProgress(text="withdrawn", share=0.0)
    if signed == cards:
        return CellProgress(text="all signed", share=1.0)
    if all(state in ("not_begun", "withdrawn") for state in states):
        return CellProgress(text="not begun", share=0.0)
    return CellProgress(text=f"{signed} of {cards} signed", share=signed / cards)
