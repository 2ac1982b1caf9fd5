"""The frame of the baseline's file."""

from models.analysis.baseline_file import baseline_file
from models.analysis.round_frames import compare_rounds, points_frame, round_frame
from tests.models.analysis.test_round_frames import PLACE, WORSE, point, reading

MATE = (*PLACE[:3], "pole B")


def test_a_point_a_row_with_the_units_and_bounds_of_its_readings() -> None:
    table = compare_rounds(
        points_frame([point(), point(MATE) | {"built_year": None}]),
        round_frame({PLACE: reading(value=8.0, text="8", uncertainty=0.25)}),
        round_frame(
            {
                PLACE: reading(value=8.1234567),
                MATE: reading(over_range=True, text=">10"),
            }
        ),
        WORSE,
    )
    file = baseline_file(
        table,
        site="North",
        lineup="A",
        baseline_round="Acceptance round 1",
        latest_round="Maintenance round 1",
    )
    cells = file.astype(object).where(file.notna(), None).to_dict("records")
    assert cells[0] == {
        "site": "North",
        "lineup": "A",
        "cell": "1",
        "apparatus": "52",
        "maker": None,
        "type": None,
        "serial": "V-52",
        "built_year": 2023,
        "procedure": "contact",
        "detail": "closed",
        "point": "pole A",
        "baseline_round": "Acceptance round 1",
        "baseline_taken_at": "2026-03-02T10:00:00Z",
        "baseline_typed": "8",
        "baseline_typed_unit": "uOhm",
        "baseline_at_20_degc": 8.0,
        "baseline_uncertainty": 0.25,
        "baseline_bound": "",
        "baseline_verdict": "within",
        "latest_round": "Maintenance round 1",
        "latest_taken_at": "2026-03-02T10:00:00Z",
        "latest_typed": "10",
        "latest_typed_unit": "uOhm",
        "latest_at_20_degc": 8.1234567,
        "latest_uncertainty": None,
        "latest_bound": "",
        "latest_verdict": "within",
        "unit_at_20_degc": "uOhm",
        "change_pct": 1.54,
    }
    assert list(file) == list(cells[0])
    assert "V-52,2023,contact" in file.to_csv(), "a year, beside one without"
    mate = cells[1]
    assert mate["baseline_typed"] is mate["baseline_bound"] is None
    assert (mate["latest_typed"], mate["latest_bound"]) == (">10", "at_least")
    assert (mate["unit_at_20_degc"], mate["change_pct"]) == ("uOhm", None)


def test_a_lineup_without_a_baseline_is_a_header() -> None:
    nothing = round_frame({})
    file = baseline_file(
        compare_rounds(points_frame([]), nothing, nothing, WORSE),
        site="North",
        lineup="A",
        baseline_round="",
        latest_round="",
    )
    assert file.to_csv(index=False).startswith("site,lineup,cell,")
    assert len(file) == 0
