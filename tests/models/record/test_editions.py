"""An acceptance round says where its limits come from another edition."""

import pytest

from models.record.editions import editions_sentence, maintenance_editions


def rule(document: str, edition: str = "2019") -> dict[str, list[dict[str, str]]]:
    cite = {"document": document, "edition": edition, "table": "Table 100.1"}
    return {"cite": [cite, {"document": "common practice", "edition": "", "table": ""}]}


MTS, NAMED = rule("ANSI/NETA MTS"), ["ANSI/NETA MTS-2019 Table 100.1"]
CASES = {
    "an acceptance round": (
        "acceptance",
        [MTS, MTS],
        ["ANSI/NETA MTS-2019 Table 100.1"],
    ),
    "a maintenance round": ("maintenance", [MTS], []),
    "the acceptance edition": ("acceptance", [rule("ANSI/NETA ATS", "2025")], []),
    "no rule": ("acceptance", [], []),
}


@pytest.mark.parametrize(("kind", "rules", "wanted"), CASES.values(), ids=CASES)
def test_maintenance_editions(
    kind: str, rules: list[dict[str, list[dict[str, str]]]], wanted: list[str]
) -> None:
    assert maintenance_editions(kind, rules) == wanted


def test_the_sentence_names_each_and_says_what_was_not_done() -> None:
    said = editions_sentence(["ANSI/NETA MTS-2019 Table 100.1"])
    assert "maintenance edition: ANSI/NETA MTS-2019 Table 100.1." in said
    assert "not compared" in said
    assert editions_sentence([]) == ""
