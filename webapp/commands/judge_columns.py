"""Judged readings as columns for people and for other programs: CSV and Parquet."""

from collections.abc import Mapping, Sequence
from functools import lru_cache
from typing import Any

import numpy as np
from numpy.typing import NDArray

from models.analysis.judge_part import JudgedPart
from models.judging.batch import UNIT_CODES, VERDICT_CODES
from models.judging.rules import MEMORY_MARK

Columns = Mapping[str, list[Any]]
Cite = Mapping[str, str]

NAMES = (
    "id",
    "test",
    "verdict",
    "value",
    "unit",
    "corrected",
    "corrected_unit",
    "limit_low",
    "limit_high",
    "uncertainty",
    "reason",
    "cite",
)
WORKING = "working"
NUMBERS = ("value", "corrected", "limit_low", "limit_high", "uncertainty")
WORDS = [str(verdict) for verdict in VERDICT_CODES]


def brief(part: JudgedPart) -> Columns:
    """Return the columns of a part with the reason of what is not within."""
    rows, judged = part.rows, part.judged
    number = rows["outcome"] == 0
    value = np.where(np.isnan(rows["low"]), rows["high"], rows["low"])
    units = [UNIT_CODES[code] for code in rows["unit"].tolist()]
    bases = np.where(number, np.array(part.bases, object), np.array(None, object))
    reasons = [""] * len(rows)
    for row, judgement in part.said.items():
        reasons[row] = judgement.reason
    return {
        "id": part.ids,
        "test": part.tests,
        "verdict": [WORDS[code] for code in judged.verdict.tolist()],
        "value": _known(value),
        "unit": units,
        "corrected": _known(judged.corrected),
        "corrected_unit": bases.tolist(),
        "limit_low": _known(judged.limit_low),
        "limit_high": _known(judged.limit_high),
        "uncertainty": _known(judged.uncertainty),
        "reason": reasons,
        "cite": _cites(part),
    }


def in_full(part: JudgedPart) -> Columns:
    """Return the columns of a part with every reason and working."""
    flat = [row.as_json() for row in part.judged_rows()]
    columns = {name: [row[name] for row in flat] for name in NAMES}
    columns["cite"] = _cites(part)
    columns[WORKING] = [" ".join(row[WORKING]) for row in flat]
    return columns


def _known(column: NDArray[np.float64]) -> list[float | None]:
    known = np.asarray(column, object)
    known[np.isnan(column)] = None
    values: list[float | None] = known.tolist()
    return values


def _cites(part: JudgedPart) -> list[str]:
    """Return the citations of each row; rows of one kind share a list of them."""
    shared = {id(sources): sources for sources in part.sources}
    said = {key: cite_words(sources) for key, sources in shared.items()}
    return [said[id(sources)] for sources in part.sources]


def cite_words(sources: Sequence[Cite]) -> str:
    """Return citations in one line."""
    return "; ".join([_cite(tuple(source.items())) for source in sources])


@lru_cache(maxsize=1024)
def _cite(parts: tuple[tuple[str, str], ...]) -> str:
    cite = dict(parts)
    place = [cite[name] for name in ("document", "edition", "table", "row")]
    how = MEMORY_MARK if cite["provenance"] == "memory" else cite["provenance"]
    return f"{' '.join(filter(None, place))} ({how})"
