"""The judgement of one row in words, by the scalar core."""

from collections.abc import Sequence

from models.judging.judge import judge
from models.judging.rules import Rule
from models.judging.verdicts import Judgement, Reading


def explain(
    rule: Rule, reading: Reading, group: Sequence[Reading] | None = None
) -> Judgement:
    """Return the judgement of one reading with its reason and working.

    *group*: the readings that it is compared with in their order, itself among them.
    """
    among = [reading] if group is None else list(group)
    at = next(at for at, each in enumerate(among) if each is reading)
    return judge([(rule, each) for each in among])[at]
