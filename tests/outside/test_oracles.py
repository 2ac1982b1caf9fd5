"""A missing oracle is a failure that says what to run."""

import pytest

from tests.outside import oracles


def test_a_missing_environment_is_said_with_the_command(
    tmp_path_factory: pytest.TempPathFactory, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(oracles, "ROOT", tmp_path_factory.mktemp("bare"))
    with pytest.raises(oracles.OracleMissingError, match="make oracles"):
        oracles.ask("oracle_curves.py")
