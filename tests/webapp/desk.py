"""The desk pages through Flask's test client, read as a person reads them."""

from collections.abc import Iterator
from contextlib import contextmanager
from html.parser import HTMLParser
from typing import Any

from flask import Flask
from flask.testing import FlaskClient
from sqlalchemy.orm import Session
from werkzeug.test import TestResponse

from tests.scenario import PASSWORD, SECRET, Cast, Work
from webapp import create_app
from webapp.config import Config

VOID = {"input", "meta", "link", "br", "path", "circle", "rect", "line", "polyline"}


class Page(HTMLParser):
    """A page: its head line, links, the values of its fields and what is wrong."""

    def __init__(self, response: TestResponse) -> None:
        """Read the page."""
        super().__init__()
        self.status = response.status_code
        self.html = response.get_data(as_text=True)
        self.links: list[str] = []
        self.fields: dict[str, str] = {}
        self.chosen: dict[str, str] = {}
        self.faults: dict[str, str] = {}
        self.headline = ""
        self.text = ""
        self._area = self._fault = self._select = ""
        self._heading = False
        self.feed(self.html)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        """Note links, fields and faults."""
        found = {name: value or "" for name, value in attrs}
        if tag == "a" and "href" in found:
            self.links.append(found["href"])
        if tag == "input":
            self._input(found)
        if tag == "textarea":
            self._area = found["name"]
            self.fields[self._area] = ""
        if tag == "select":
            self._select = found["name"]
        if tag == "option" and "selected" in found and self._select:
            self.chosen[self._select] = found["value"]
        if tag == "span" and found.get("class") == "fault":
            self._fault = found["id"].removesuffix("-fault")
        self._heading = self._heading or tag == "h1"

    def _input(self, found: dict[str, str]) -> None:
        if found.get("type") in ("radio", "checkbox"):
            if "checked" in found:
                self.chosen[found["name"]] = found["value"]
        elif found.get("name"):
            self.fields[found["name"]] = found.get("value", "")

    def handle_endtag(self, tag: str) -> None:
        """Close what is open."""
        if tag == "textarea":
            self.fields[self._area] = self.fields[self._area].removeprefix("\r\n")
            self._area = ""
        if tag == "span":
            self._fault = ""
        if tag == "h1":
            self._heading = False

    def handle_data(self, data: str) -> None:
        """Collect words."""
        if self._area:
            self.fields[self._area] += data
        if self._fault:
            self.faults[self._fault] = self.faults.get(self._fault, "") + data
        if self._heading:
            self.headline += data
        self.text += f" {data.strip()}" if data.strip() else ""


class Visitor:
    """Somebody at a browser."""

    def __init__(self, client: FlaskClient) -> None:
        """Begin without a session."""
        self.client = client

    def get(self, path: str) -> Page:
        """Fetch a page."""
        return Page(self.client.get(path))

    def follow(self, response: TestResponse) -> Page:
        """Go where a redirect leads."""
        assert response.status_code == 303, response.get_data(as_text=True)[:400]
        return self.get(response.headers["Location"])

    def post(self, path: str, *, on: str = "", **fields: Any) -> TestResponse:
        """Submit a form of the page *on*, by default that of the same address."""
        page = self.get(on or path)
        token = page.fields["csrf_token"]
        return self.client.post(path, data={"csrf_token": token, **fields})

    def faulty(self, path: str, *, on: str = "", **fields: Any) -> Page:
        """Submit a form that is not accepted, and read what is said."""
        page = Page(self.post(path, on=on, **fields))
        assert page.status == 422, page.text
        return page


class Desk:
    """The application on a database of the test's own."""

    def __init__(self, url: str) -> None:
        """Start the application."""
        self.url = url
        self.app: Flask = create_app(Config(database=url, secret=SECRET, testing=True))

    def passer_by(self) -> Visitor:
        """Return somebody who has not signed in."""
        return Visitor(self.app.test_client())

    def person(self, who: Cast, password: str = PASSWORD) -> Visitor:
        """Return somebody who has signed in."""
        visitor = self.passer_by()
        answer = visitor.post(
            "/account/sign-in", sign_in=who.sign_in, password=password
        )
        assert answer.status_code == 303
        return visitor

    @contextmanager
    def work(self) -> Iterator[Work]:
        """Let the crew act on the newest round through the services."""
        with Session(self.app.extensions["engine"], expire_on_commit=False) as session:
            yield Work.resume(session)
            session.commit()

    def close(self) -> None:
        """Let go of the database."""
        self.app.extensions["engine"].dispose()
