"""A judged row as a line of JSON.

The text is that of the standard encoder for `JudgedRow.as_json`. It is put together
here because that encoder walks every citation of every row again, and there may be a
million rows that share a handful.
"""

import json
from functools import lru_cache

from models.analysis.judge_part import JudgedRow

_encode = json.JSONEncoder(ensure_ascii=False, check_circular=False).encode


@lru_cache(maxsize=1024)
def _word(word: str | None) -> str:
    return _encode(word)


@lru_cache(maxsize=1024)
def _citation(parts: tuple[tuple[str, object], ...]) -> str:
    return _encode(dict(parts))


def _number(value: float | None) -> str:
    """Numbers of a judgement are finite: JSON has them as Python writes them."""
    return "null" if value is None else repr(value)


def json_line(row: JudgedRow) -> str:
    """Return the row as one JSON object and the end of its line."""
    judged = row.judgement
    cite = ", ".join([_citation(tuple(source.items())) for source in judged.cite])
    working = ", ".join(map(_encode, judged.working))
    said = judged.said_unit
    said_unit = "" if said is None else f'"said_unit": {_word(said)}, '
    return (
        f'{{"id": {_encode(row.id)}, "test": {_word(row.test)}, '
        f'"verdict": {_word(judged.verdict)}, '
        f'"value": {_number(judged.value)}, "unit": {_word(judged.unit)}, '
        f'"corrected": {_number(judged.corrected)}, '
        f'"corrected_unit": {_word(judged.corrected_unit)}, {said_unit}'
        f'"limit_low": {_number(judged.limit_low)}, '
        f'"limit_high": {_number(judged.limit_high)}, '
        f'"uncertainty": {_number(judged.uncertainty)}, '
        f'"reason": {_encode(judged.reason)}, '
        f'"cite": [{cite}], "working": [{working}]}}\n'
    )
