"""Answers in gzip: which are, that they hold the same, and which must not be."""

import gzip
import json
from collections.abc import Callable

import pytest

from tests.scenario import TECHNICIAN
from tests.webapp.desk import Desk

GZIP = {"Accept-Encoding": "gzip"}


@pytest.mark.parametrize(
    ("asked", "compressed"),
    [
        ("/static/style.css", True),
        ("/offline/judge.js", True),
        ("/offline/words/en.js", True),  # made of Python data
        ("/favicon.ico", False),  # shorter than 1 kB
        ("/static/fonts/atkinson-hyperlegible-latin-400-normal.woff2", False),
        ("/account/sign-in", False),  # carries a form's token
    ],
)
def test_what_is_compressed(
    desk_at: Callable[[str], Desk], asked: str, compressed: bool
) -> None:
    client = desk_at("opened").passer_by().client
    plain = client.get(asked)
    small = client.get(asked, headers=GZIP)
    assert "Content-Encoding" not in plain.headers
    assert (small.headers.get("Content-Encoding") == "gzip") is compressed
    if compressed:
        assert gzip.decompress(small.data) == plain.data
        assert small.content_length == len(small.data) < len(plain.data)
        assert "Accept-Encoding" in small.headers["Vary"]
        assert "Accept-Encoding" in plain.headers["Vary"]
        again = client.get(
            asked, headers={**GZIP, "If-None-Match": small.headers["ETag"]}
        )
        assert (again.status_code, again.data) == (304, b"")


@pytest.mark.parametrize("said", ["identity", "gzip;q=0", "br"])
def test_a_browser_that_takes_no_gzip_gets_none(
    desk_at: Callable[[str], Desk], said: str
) -> None:
    client = desk_at("opened").passer_by().client
    answer = client.get("/static/style.css", headers={"Accept-Encoding": said})
    assert "Content-Encoding" not in answer.headers


def test_a_part_of_a_file_is_sent_as_it_is(desk_at: Callable[[str], Desk]) -> None:
    client = desk_at("opened").passer_by().client
    asked = {**GZIP, "Range": "bytes=10-2099"}
    part = client.get("/static/style.css", headers=asked)
    assert (part.status_code, len(part.data)) == (206, 2090)
    assert "Content-Encoding" not in part.headers


def test_documents_are_compressed_and_pages_with_a_token_are_not(
    desk_at: Callable[[str], Desk],
) -> None:
    desk = desk_at("opened")
    client = desk.person(TECHNICIAN).client
    with desk.work() as work:
        document = f"/field/rounds/{work.round_id}/document.json"
    plain, small = (client.get(document, headers=said) for said in ({}, GZIP))
    assert small.headers["Content-Encoding"] == "gzip"
    assert json.loads(gzip.decompress(small.data)).keys() == plain.get_json().keys()
    page = client.get("/field/", headers=GZIP)
    assert page.status_code == 200
    assert len(page.data) > 1024
    assert b"csrf_token" in page.data
    assert "Content-Encoding" not in page.headers
