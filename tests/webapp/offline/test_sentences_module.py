"""The sentences as a module: made from the catalogue, kept by a browser."""

import json
from collections.abc import Callable

import pytest
from flask.testing import FlaskClient

from models.words import catalogue
from tests.webapp.desk import Desk

ADDRESS = "/offline/words/en.js"


@pytest.fixture
def client(desk_at: Callable[[str], Desk]) -> FlaskClient:
    """A browser that nobody is signed in with."""
    return desk_at("opened").passer_by().client


def test_the_module_is_the_catalogue(client: FlaskClient) -> None:
    response = client.get(ADDRESS)
    assert response.mimetype == "text/javascript"
    module = response.get_data(as_text=True)
    begun, _, rest = module.partition("export default ")
    assert begun == ""
    assert json.loads(rest.rstrip().removesuffix(";")) == catalogue()


def test_a_browser_keeps_it_until_it_changes(client: FlaskClient) -> None:
    first = client.get(ADDRESS)
    assert first.headers["Cache-Control"] == "no-cache"
    again = client.get(ADDRESS, headers={"If-None-Match": first.headers["ETag"]})
    assert again.status_code == 304
    assert again.data == b""


def test_the_other_modules_are_files(client: FlaskClient) -> None:
    with client.get("/offline/judge.js") as response:
        assert response.mimetype == "text/javascript"
    assert client.get("/offline/words/de.js").status_code == 404
