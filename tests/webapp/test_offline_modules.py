"""The tablet's modules: files, and those made of Python data, which a browser keeps."""

import json
from collections.abc import Callable

import pytest
from flask.testing import FlaskClient

from models.judging.quantities import SPELLINGS, UNITS, said_unit
from models.judging.series import SERIES
from models.judging.values import Outcome
from models.words import catalogue
from tests.webapp.desk import Desk
from webapp.offline_modules import MADE


@pytest.fixture
def client(desk_at: Callable[[str], Desk]) -> FlaskClient:
    """A browser that nobody is signed in with."""
    return desk_at("opened").passer_by().client


def exported(client: FlaskClient, name: str, begins: str) -> object:
    response = client.get(f"/offline/{name}")
    assert response.mimetype == "text/javascript"
    begun, _, rest = response.get_data(as_text=True).partition(begins)
    assert begun == ""
    return json.loads(rest.rstrip().removesuffix(";"))


def test_the_sentences_are_the_catalogue(client: FlaskClient) -> None:
    assert exported(client, "words/en.js", "export default ") == catalogue()


def test_the_units_and_outcomes_are_those_of_readings(client: FlaskClient) -> None:
    response = client.get("/offline/tables.js")
    assert response.mimetype == "text/javascript"
    lines = response.get_data(as_text=True).splitlines()
    table, spellings, outcomes, rows = (
        json.loads(line.partition(" = ")[2].removesuffix(";")) for line in lines
    )
    assert outcomes == list(Outcome)
    assert rows.keys() == SERIES.keys()
    assert rows["travel"]["most"] == SERIES["travel"].most
    assert spellings == SPELLINGS
    assert table.keys() == UNITS.keys()
    assert {name: unit["said"] for name, unit in table.items()} == {
        name: said_unit(name) for name in UNITS
    }
    assert table["Torr"]["times"] / table["Torr"]["over"] == 101325 / 760


@pytest.mark.parametrize("name", MADE)
def test_a_browser_keeps_a_made_module_until_it_changes(
    client: FlaskClient, name: str
) -> None:
    first = client.get(f"/offline/{name}")
    assert first.headers["Cache-Control"] == "no-cache"
    again = client.get(
        f"/offline/{name}", headers={"If-None-Match": first.headers["ETag"]}
    )
    assert again.status_code == 304
    assert again.data == b""


def test_the_other_modules_are_files(client: FlaskClient) -> None:
    with client.get("/offline/judge.js") as response:
        assert response.mimetype == "text/javascript"
    assert client.get("/offline/words/de.js").status_code == 404
