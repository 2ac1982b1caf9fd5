"""A lineup of 200 apparatus: its table read and written, its ratings compared."""

import time
from collections.abc import Callable

from models.record.lineup_draft import (
    ApparatusDraft,
    CellDraft,
    LineupDraft,
    SectionDraft,
)
from models.record.ratings import ratings_remarks
from models.services.setup.export_lineup import lineup_csv, lineup_workbook
from models.services.setup.import_lineup import read_lineup_table
from tests.bench.measure import Measured

CELLS, IN_A_CELL = 40, 5
TURNS = 5
BREAKER = {"rated_kv": 15.0, "rated_a": 1200.0, "rated_ka": 31.5, "built_year": 2024}
RELAY = {"element": "51", "pickup_a": 480.0, "time_dial": 2.0, "multiples": [2.0, 5.0]}


def run() -> list[Measured]:
    """Read and write the table in both forms, and compare the ratings."""
    draft = lineup()
    csv, book = lineup_csv(draft), lineup_workbook(draft)
    return [
        _timed("200 rows of CSV read", lambda: read_lineup_table(csv), "1 s"),
        _timed("200 rows of a workbook read", lambda: read_lineup_table(book), "5 s"),
        _timed("200 rows of a workbook written", lambda: lineup_workbook(draft), ""),
        _timed("ratings of 40 cells", lambda: ratings_remarks(draft), "0.02 s"),
    ]


def lineup() -> LineupDraft:
    """Return 40 cells with a breaker and four relays each."""
    cells = [
        CellDraft(
            number=str(n),
            name=f"Feeder {n}",
            kind="breaker",
            bus="bus A",
            apparatus=[
                ApparatusDraft(
                    kind="breaker",
                    label=f"52-{n}",
                    plate=BREAKER | {"serial": f"V-{n}"},
                ),
                *(
                    ApparatusDraft(kind="relay", label=f"51-{n}.{k}", plate=RELAY)
                    for k in range(1, IN_A_CELL)
                ),
            ],
        )
        for n in range(1, CELLS + 1)
    ]
    return LineupDraft(
        name="SG-40",
        gear="metal_clad",
        ratings={"rated_kv": 15.0, "rated_withstand_kv": 36.0, "rated_a": 2000.0},
        sections=[SectionDraft(name="bus A", rated_a=2000.0)],
        cells=cells,
    )


def _timed(what: str, work: Callable[[], object], wanted: str) -> Measured:
    """Return the shortest of some turns."""
    taken = []
    for _ in range(TURNS):
        start = time.perf_counter()
        work()
        taken.append(time.perf_counter() - start)
    return Measured(bench="lineup", what=what, seconds=min(taken), wanted=wanted)
