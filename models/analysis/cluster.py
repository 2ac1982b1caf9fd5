"""Parts of a readings file judged by the workers of a Dask cluster.

Rules travel as the plain values that are stored: a worker that does not know their
version refuses them. Pieces come back in their order, and only so many are under way
that memory stays bounded.
"""

from collections import deque
from collections.abc import Iterable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from typing import Any

from distributed import Client

from models.analysis.judge_file import Judge
from models.analysis.judge_part import JudgedPart, judge_all, judge_briefly
from models.analysis.work import Work
from models.judging import Rule

EACH = 2  # parts under way for a thread of a worker
WAIT = "10s"  # for the scheduler to answer


@contextmanager
def cluster(address: str, *, words: bool) -> Iterator[Judge]:
    """Give what judges parts on the cluster whose scheduler is at *address*.

    Raises OSError when nobody answers there.
    """
    with Client(address, timeout=WAIT, set_as_default=False) as client:

        def judge(parts: Iterable[Work]) -> Iterator[JudgedPart]:
            return _in_order(client, parts, words=words)

        yield judge


def _in_order(
    client: Client, parts: Iterable[Work], *, words: bool
) -> Iterator[JudgedPart]:
    under_way: deque[Any] = deque()
    for part in parts:
        rules = [rule.to_json() for rule in part.rules]
        sent = part._replace(rules=())
        under_way.append(client.submit(judge_there, sent, rules, words, pure=False))
        if len(under_way) >= EACH * max(1, sum(client.nthreads().values())):
            yield under_way.popleft().result()
    while under_way:
        yield under_way.popleft().result()


def judge_there(
    part: Work,
    rules: Sequence[Mapping[str, Any]],
    words: bool,  # noqa: FBT001 (a scheduler hands arguments by position)
) -> JudgedPart:
    """Judge a part; called in a worker."""
    work = part._replace(rules=[Rule.from_json(rule) for rule in rules])
    return judge_all(work) if words else judge_briefly(work)
