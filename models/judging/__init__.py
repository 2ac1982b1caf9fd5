"""The judging core: pure, on the standard library alone; it knows no procedure."""

from models.judging.accuracy import (
    Accuracy,
    AccuracyRange,
    RangedAccuracy,
    accuracy_from,
    ranged,
)
from models.judging.accuracy_text import parse_accuracy
from models.judging.decide import decide
from models.judging.gates import with_calibration_gate
from models.judging.judge import judge_checked
from models.judging.reading_check import Checked, check_reading
from models.judging.rules import Rule
from models.judging.tables import Criteria, Table
from models.judging.values import Interval, Outcome, parse_number, parse_value
from models.judging.verdicts import Judgement, Reading, Verdict

__all__ = [
    "Accuracy",
    "AccuracyRange",
    "Checked",
    "Criteria",
    "Interval",
    "Judgement",
    "Outcome",
    "RangedAccuracy",
    "Reading",
    "Rule",
    "Table",
    "Verdict",
    "accuracy_from",
    "check_reading",
    "decide",
    "judge_checked",
    "parse_accuracy",
    "parse_number",
    "parse_value",
    "ranged",
    "with_calibration_gate",
]
