"""The words that a field of a document may hold."""

from typing import Literal

CardState = Literal["not_begun", "begun", "signing", "signed", "returned", "withdrawn"]
Conformity = Literal[
    "conforms", "conforms_with_deviations", "does_not_conform", "not_complete"
]
DecisionWord = Literal["use_as_is", "accept_with_limits", "reject"]
Role = Literal["technician", "lead", "owner", "administrator"]
RoundKind = Literal["acceptance", "maintenance"]
RoundState = Literal["open", "approved", "accepted"]
Severity = Literal["stops_turnover", "may_follow"]
Verdict = Literal["within", "marginal", "outside", "unjudged"]
