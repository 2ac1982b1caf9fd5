"""One file with readings of every procedure, in columns and row by row."""

from pathlib import Path

from tests.bench.mixed_rows import write_mixed
from tests.models.analysis.test_judge_file import differences

ROWS = 1500  # about twenty of each procedure


def test_a_file_of_every_procedure_is_judged_as_row_by_row(tmp_path: Path) -> None:
    data = write_mixed(tmp_path / "readings.csv", ROWS).read_bytes()
    assert differences(data, 400) == []
