"""Files on the pages: sent in, shown, sent out as what they are, withdrawn."""

import re
import zipfile
from collections.abc import Callable
from io import BytesIO
from pathlib import Path
from uuid import UUID

import pytest
from click.testing import CliRunner
from werkzeug.datastructures import FileStorage
from werkzeug.test import TestResponse, encode_multipart

from tests.models.files import made_up_files as made
from tests.scenario import (
    CR,
    LEAD,
    LINEUP,
    OWNER,
    RIVAL,
    SITE,
    TECHNICIAN,
    lineup_id,
)
from tests.webapp.desk import Desk, Page, Visitor
from webapp.cli import main
from webapp.config import instance_dir

DeskAt = Callable[[str], Desk]


class Pages:
    """A card, and somebody at it."""

    def __init__(self, desk: Desk) -> None:
        """Sign the lead in."""
        self.desk = desk
        with desk.work() as work:
            self.card: UUID = work.card("breaker 52", CR).id
        self.page = f"/turnover/cards/{self.card}"
        self.visitor = desk.person(LEAD)

    def send(
        self, name: str, content: bytes, *, back: str = "", **fields: str
    ) -> TestResponse:
        """Attach a file by the form of the page."""
        shown = self.visitor.get(self.page)
        sent = {
            "csrf_token": shown.fields["csrf_token"],
            "back": back or shown.fields["back"],
            "file": FileStorage(BytesIO(content), name),
            **fields,
        }
        boundary, body = encode_multipart(sent)
        return self.visitor.client.post(
            f"/files/card/{self.card}",
            data=body,
            content_type=f"multipart/form-data; boundary={boundary}",
        )

    def sent(self) -> str:
        """Return the address of the newest file of the page."""
        shown = self.visitor.get(self.page).links
        return [link for link in shown if re.fullmatch("/files/[^/]*", link)][-1]


@pytest.fixture
def pages(desk_at: DeskAt) -> Pages:
    """A round under way."""
    return Pages(desk_at("confirmed"))


def test_a_photograph_is_attached_seen_and_withdrawn(pages: Pages) -> None:
    answer = pages.send("cell 7.jpeg", made.jpeg(), note="Pole B as found")
    assert answer.headers["Location"] == f"{pages.page}#files-{pages.card}"
    page = pages.visitor.get(pages.page)
    assert "cell 7.jpeg is attached." in page.text
    assert "Pole B as found" in page.text
    address = next(link for link in page.links if link.startswith("/files/"))
    assert f'<img src="{address}" alt="Pole B as found" loading="lazy">' in page.html
    got = pages.visitor.client.get(address)
    assert got.data.startswith(b"\xff\xd8\xff")
    assert made.CAMERA.encode() not in got.data
    assert got.content_length == len(got.data)

    ask = next(link for link in page.links if re.match("/files/.*/withdraw", link))
    back = pages.visitor.faulty(ask, reason="", back=pages.page)
    assert "why the file does not count" in back.html
    gone = pages.visitor.post(
        ask.partition("?")[0], on=ask, reason="of cell 8", back=pages.page
    )
    page = pages.visitor.follow(gone)
    assert "of cell 8" in page.text
    assert "<img" not in page.html.partition("file-withdrawn")[2][:400]


SENT = {
    "PDF": ("a.pdf", made.PDF, "application/pdf", "attachment"),
    "text": (r"..\..\x.exe", b"words\n", "text/plain; charset=utf-8", "attachment"),
    "table": ("a.csv", b"a,b\n1,2\n", "text/csv; charset=utf-8", "attachment"),
    "picture": ("Öl.png", made.png(), "image/png", "inline"),
}


@pytest.mark.parametrize(("name", "content", "kind", "how"), SENT.values(), ids=SENT)
def test_a_file_is_sent_so_that_nothing_of_it_runs(
    pages: Pages, name: str, content: bytes, kind: str, how: str
) -> None:
    assert pages.send(name, content).status_code == 303
    got = pages.visitor.client.get(pages.sent())
    assert got.headers["Content-Type"] == kind
    assert got.headers["Content-Security-Policy"] == "sandbox; default-src 'none'"
    assert got.headers["X-Content-Type-Options"] == "nosniff"
    assert got.headers["Cache-Control"].startswith("private")
    said = {r"..\..\x.exe": "x.exe.txt", "Öl.png": "%C3%96l.png"}.get(name, name)
    assert got.headers["Content-Disposition"] == f"{how}; filename*=UTF-8''{said}"


REFUSED = {
    "no file": ("", b"", "Choose a file."),
    "empty": ("a.txt", b"", "The file is empty."),
    "no picture": ("a.jpg", b"MZ\x90\x00", "This kind of file is not kept."),
    "drawing": ("a.svg", b"<svg onload='x'/>", "SVG"),
    "over the limit": ("a.txt", b"x" * 25_000_001, "larger than 25 MB"),
}


@pytest.mark.parametrize(("name", "content", "why"), REFUSED.values(), ids=REFUSED)
def test_what_is_refused_is_said_at_its_field(
    pages: Pages, name: str, content: bytes, why: str
) -> None:
    page = Page(pages.send(name, content, note="Pole B"))
    assert page.status == 422
    assert why in page.html
    assert page.fields["note"] == "Pole B"
    assert page.fields["back"] == pages.page
    assert "None attached." in pages.visitor.get(pages.page).text


def test_sixty_megabytes_are_answered_by_a_page(pages: Pages) -> None:
    page = Page(pages.send("a.jpg", b"\xff" * 60_000_000))
    assert page.status == 413
    assert "larger than 25 MB, the most that this installation keeps" in page.text


@pytest.mark.parametrize("back", ["//elsewhere.example/", "https://x.example", "x"])
def test_the_way_back_leads_nowhere_else(pages: Pages, back: str) -> None:
    answer = pages.send("a.txt", b"words\n", back=back)
    assert answer.headers["Location"].startswith("/#files")


def test_nobody_gets_a_file_of_a_site_that_is_not_theirs(pages: Pages) -> None:
    pages.send("a.txt", b"words\n")
    address = pages.sent()
    for who, status in ((RIVAL, 404), (TECHNICIAN, 200)):
        visitor: Visitor = pages.desk.person(who)
        assert visitor.client.get(address).status_code == status
    assert pages.desk.passer_by().client.get(address).status_code == 302


def test_everything_of_a_lineup_is_taken_along_by_a_button(pages: Pages) -> None:
    pages.send("a.txt", b"words\n")
    page = pages.visitor.get(f"/owner/lineups/{lineup_id()}")
    way = next(link for link in page.links if link.startswith("/files/export/"))
    got = pages.visitor.client.get(way)
    assert got.headers["Content-Disposition"].endswith('.zip"')
    with zipfile.ZipFile(BytesIO(got.data)) as archive:
        assert archive.testzip() is None
        names = {name.partition("/")[2] for name in archive.namelist()}
    assert {"README.txt", "SHA256SUMS", "readings.csv", "tables/card.json"} <= names
    assert any(name.endswith("/a.txt") for name in names)
    owner = pages.desk.person(OWNER)  # the round is open: nothing of it is theirs yet
    with zipfile.ZipFile(BytesIO(owner.client.get(way).data)) as archive:
        assert not [name for name in archive.namelist() if name.endswith("/a.txt")]


def test_the_command_writes_a_folder_or_a_zip(
    pages: Pages, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    url = pages.desk.app.extensions["engine"].url.render_as_string()
    monkeypatch.setenv("WITNESSMARK_DATABASE", url)
    zipped, folder = tmp_path / "x.zip", tmp_path / "x"
    for path in (zipped, folder):
        words = ["export", f"{SITE}/{LINEUP}", "-o", str(path)]
        said = CliRunner().invoke(main, words)
        assert said.exit_code == 0, said.stderr
        assert f"{SITE} / {LINEUP}: {path}" in said.stdout
    with zipfile.ZipFile(zipped) as archive:
        sums = archive.read("x/SHA256SUMS")
    assert sums == (folder / "SHA256SUMS").read_bytes()
    assert list(tmp_path.glob("*.part")) == []
    said = CliRunner().invoke(main, ["export", SITE, "-o", str(folder)])
    assert "is there already" in said.stderr


def test_check_reads_the_files_unless_told_not_to(
    pages: Pages, monkeypatch: pytest.MonkeyPatch
) -> None:
    url = pages.desk.app.extensions["engine"].url.render_as_string()
    monkeypatch.setenv("WITNESSMARK_DATABASE", url)
    monkeypatch.setenv("WITNESSMARK_FILES", str(instance_dir() / "of this test"))
    pages.send("a.txt", b"words that are in another store\n")
    said = CliRunner().invoke(main, ["check"])
    assert said.exit_code == 1
    assert "file 'a.txt' of card" in said.stderr
    said = CliRunner().invoke(main, ["check", "--without-files"])
    assert said.exit_code == 0
    assert "The attached files were not read." in said.stdout
