"""Where signing in may lead."""

import pytest

from webapp.way_back import way_back

INSIDE = {
    "a page": "/turnover/",
    "a page with a query": "/owner/points/1?group=closed",
    "an address inside a query": "/owner/?note=https://elsewhere.example",
}
ELSEWHERE = {
    "nothing": "",
    "another host": "https://elsewhere.example/",
    "another host without a scheme": "//elsewhere.example/",
    "a backslash read as a slash": "/\\elsewhere.example/",
    "a control character that browsers drop": "/\t/elsewhere.example/",
    "a line end": "/turnover/\r\nSet-Cookie: a=b",
    "no leading slash": "turnover/",
    "a script": "javascript:alert(1)",
}


@pytest.mark.parametrize("wanted", INSIDE.values(), ids=INSIDE.keys())
def test_leads_on_inside(wanted: str) -> None:
    assert way_back(wanted) == wanted


@pytest.mark.parametrize("wanted", ELSEWHERE.values(), ids=ELSEWHERE.keys())
def test_never_leads_elsewhere(wanted: str) -> None:
    assert way_back(wanted) == ""
