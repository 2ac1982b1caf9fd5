"""Parts judged by two worker processes of a cluster are those judged here."""

import io
import random
from collections.abc import Iterator

import numpy as np
import pytest
from distributed import LocalCluster

from models.analysis.cluster import cluster
from models.analysis.judge_file import checked_file
from models.analysis.judge_part import JudgedPart, judge_all, judge_briefly
from models.analysis.read_csv import CsvSource
from models.criteria import load
from tests.models.analysis.test_judge_frame import as_file, made_up

ROWS = 60  # of a part: groups are spread over them
CRITERIA = load()


@pytest.fixture(scope="module")
def address() -> Iterator[str]:
    with LocalCluster(
        n_workers=2,
        threads_per_worker=1,
        processes=True,
        dashboard_address="127.0.0.1:0",
    ) as workers:
        yield workers.scheduler_address


def same(part: JudgedPart, other: JudgedPart) -> bool:
    columns = zip(part.judged, other.judged, strict=True)
    return (
        all(np.array_equal(a, b, equal_nan=a.dtype.kind == "f") for a, b in columns)
        and part.rows.tobytes() == other.rows.tobytes()
        and (part.start, part.ids, part.tests) == (other.start, other.ids, other.tests)
        and (part.said, part.sources) == (other.said, other.sources)
    )


@pytest.mark.slow
@pytest.mark.parametrize("words", [True, False], ids=["with words", "briefly"])
def test_a_cluster_judges_alike(address: str, words: bool) -> None:
    dice = random.Random(7)
    data = as_file([made_up(dice) for _ in range(600)])
    source = CsvSource(io.BytesIO(data), ROWS)
    here = judge_all if words else judge_briefly
    with (
        checked_file(source, CRITERIA, lambda _rows: None) as checked,
        cluster(address, words=words) as judge,
    ):
        wanted = list(map(here, checked.work()))
        found = list(judge(checked.work()))
    assert len(found) == 10
    assert [same(*pair) for pair in zip(found, wanted, strict=True)] == [True] * 10


@pytest.mark.slow
def test_where_nobody_answers_is_an_error() -> None:
    with pytest.raises(OSError, match="Timed out"):
        cluster("tcp://127.0.0.1:9", words=False).__enter__()
