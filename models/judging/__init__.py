"""The judging core: pure, on the standard library alone."""

from models.judging.accuracy import Accuracy, parse_accuracy
from models.judging.compile import compile_rule
from models.judging.judge import PROCEDURES, judge
from models.judging.procedures import Procedure
from models.judging.reading_check import check_reading
from models.judging.rules import Rule
from models.judging.subject import Subject
from models.judging.tables import Criteria, Table
from models.judging.values import Interval, Outcome, parse_number, parse_value
from models.judging.verdicts import Judgement, Reading, Verdict

__all__ = [
    "PROCEDURES",
    "Accuracy",
    "Criteria",
    "Interval",
    "Judgement",
    "Outcome",
    "Procedure",
    "Reading",
    "Rule",
    "Subject",
    "Table",
    "Verdict",
    "check_reading",
    "compile_rule",
    "judge",
    "parse_accuracy",
    "parse_number",
    "parse_value",
]
