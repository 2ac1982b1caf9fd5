"""Many readings in a data frame, judged rule by rule in columns.

The verdicts and numbers are those of `witnessmark judge` on the same rows, without
the words.
"""

from typing import Any

import numpy as np
import pandas as pd

from models.analysis.check_part import PartChecker
from models.analysis.group_lowest import KnownGroups
from models.analysis.judge_file import find_contenders
from models.analysis.judge_part import in_columns
from models.analysis.parts import Part
from models.analysis.readings_file import COLUMNS, MOST_FAULTS
from models.analysis.row_rules import RowRules
from models.analysis.spool import Kept
from models.analysis.work import work_of
from models.errors import Fault, InputError
from models.judging import Criteria
from models.judging.batch import VERDICT_CODES

REQUIRED = ("test", "value")


def judge_frame(frame: pd.DataFrame, criteria: Criteria) -> pd.DataFrame:
    """Return a frame of the same index: verdict, corrected, limits, uncertainty.

    *frame* has the columns of a readings file, cells as text or as numbers; `id` is
    not needed. Raises InputError, a fault a place ("row 3, column value", the row by
    its label), for what the file's reader refuses.
    """
    part = _part(frame)
    checked = PartChecker(list(part.cells), "row").check(part)
    if checked.faults:
        raise InputError(*[each.fault for each in checked.faults[:MOST_FAULTS]])
    row_rules, groups = RowRules(criteria), KnownGroups()
    find_contenders(checked, 0, groups, row_rules)
    kept = Kept(0, [], checked.values, checked.rows, checked.texts)
    judged = in_columns(work_of(kept, row_rules, groups.found()))
    groups.close()
    words = [str(verdict) for verdict in VERDICT_CODES[1:]]
    verdict = pd.Categorical.from_codes(judged.verdict.astype(int) - 1, words)
    return pd.DataFrame(
        {"verdict": verdict, **dict(list(judged._asdict().items())[1:])},
        index=frame.index,
    )


def _part(frame: pd.DataFrame) -> Part:
    """Return a frame's cells as texts; InputError for wrong columns."""
    names = [str(name) for name in frame.columns]
    known = ", ".join(COLUMNS)
    wrong = {
        **{n: f"unknown column; known are {known}." for n in names if n not in COLUMNS},
        **{n: "given more than once." for n in names if names.count(n) > 1},
        **{n: "this column is missing." for n in REQUIRED if n not in names},
    }
    if wrong:
        faults = [Fault(field=f"column {n}", message=said) for n, said in wrong.items()]
        raise InputError(*faults)
    cells = {name: _texts(frame[name]) for name in names if name != "id"}
    return Part(list(frame.index), cells)


def _texts(column: Any) -> list[str]:
    blank = np.asarray(pd.isna(column))
    return ["" if b else str(c) for c, b in zip(column, blank, strict=True)]
