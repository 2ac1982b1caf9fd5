"""A judged row's line is what the standard encoder writes for the row."""

import json
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from models.analysis.judge_part import JudgedRow
from models.judging import Judgement, Rule, Verdict
from models.procedures import judge
from tests.data.golden_cases import GOLDEN, reading_from
from webapp.commands.judge_lines import json_line

GOLDEN_CASES: list[dict[str, Any]] = json.loads(GOLDEN.read_text("utf-8"))


def by_the_encoder(row: JudgedRow) -> str:
    return json.dumps(row.as_json(), ensure_ascii=False) + "\n"


@pytest.mark.parametrize("golden", GOLDEN_CASES, ids=lambda golden: golden["name"])
def test_a_line_is_what_the_encoder_writes(golden: dict[str, Any]) -> None:
    items = [
        (Rule.from_json(item["rule"]), reading_from(item["reading"]))
        for item in golden["items"]
    ]
    for judgement, (rule, reading) in zip(judge(items), items, strict=True):
        row = JudgedRow(reading.key, rule.procedure, judgement)
        assert json_line(row) == by_the_encoder(row)


numbers = st.one_of(st.none(), st.floats(allow_nan=False, allow_infinity=False))
texts = st.one_of(
    st.text(), st.sampled_from(['"', "\\", "\u2028", "\x00\x1f\x7f", "µΩ"])
)


@pytest.mark.property
@given(
    row_id=texts,
    verdict=st.sampled_from(Verdict),
    number=numbers,
    unit=st.one_of(st.none(), texts),
    reason=texts,
    cite=st.lists(st.dictionaries(texts, texts, max_size=3), max_size=3),
    working=st.lists(texts, max_size=3),
)
def test_whatever_a_row_holds(
    row_id: str,
    verdict: Verdict,
    number: float | None,
    unit: str | None,
    reason: str,
    cite: list[dict[str, str]],
    working: list[str],
) -> None:
    judgement = Judgement(
        verdict=verdict,
        value=number,
        unit=unit,
        corrected=number,
        corrected_unit=unit,
        limit_low=number,
        limit_high=None,
        uncertainty=number,
        reason=reason,
        cite=cite,
        working=working,
    )
    row = JudgedRow(row_id, "contact_resistance", judgement)
    assert json_line(row) == by_the_encoder(row)
