"""The tablet's program: what is in it, how it is answered, and the single files."""

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

from tests.webapp.desk import Desk
from webapp import create_app
from webapp.config import Config
from webapp.field.program import ROUND, SHEETS, STATIC, make_program
from webapp.field.shell import joined_files, make_shell, single_files

# Modules of pages that the server makes, and what runs in a worker.
NOT_OF_THE_PAGES = {
    "/static/field/kept/worker_memory.js",
    "/static/field/scan/reader_worker.js",
    "/static/field/scan/vendor/jsQR.js",
}


def test_every_module_and_style_sheet_of_the_field_is_in_it_and_held_once() -> None:
    made = make_program()
    single = {name for name in single_files() if name.endswith((".js", ".css"))}
    assert single - made.inside == NOT_OF_THE_PAGES
    assert {made.script, made.sheet} < joined_files(made).keys()
    assert made.inside.isdisjoint(joined_files(made))


def test_the_style_sheet_names_files_that_are_there() -> None:
    sheet = make_program().texts[make_program().sheet]
    named = {one.split(")")[0] for one in sheet.split("url(")[1:]}
    assert named
    assert all((STATIC / name.removeprefix("/static/")).is_file() for name in named)


def test_a_browser_keeps_it_and_an_older_address_leads_to_todays(
    desk_at: Callable[[str], Desk],
) -> None:
    client = desk_at("opened").passer_by().client
    made = make_program()
    page = client.get("/field/tablet").get_data(as_text=True)
    for address, mimetype in (
        (made.script, "text/javascript"),
        (made.sheet, "text/css"),
    ):
        assert f'"{address}"' in page
        answer = client.get(address, headers={"Accept-Encoding": "gzip"})
        assert answer.mimetype == mimetype
        assert answer.headers["Content-Encoding"] == "gzip"
        assert answer.headers["Cache-Control"].endswith("immutable")
        older = client.get(address.replace("program-", "program-0"))
        assert (older.status_code, older.location) == (302, address)
        assert older.headers["Cache-Control"] == "no-store"


def test_a_developer_has_the_single_files(tmp_path: Path, sqlite_url: str) -> None:
    config = Config(database=sqlite_url, secret="s" * 40, files=str(tmp_path))
    shell = make_shell(create_app(replace(config, single_files=True)))
    assert f'type="module" src="{ROUND}"' in shell.page
    assert all(f'href="{sheet}"' in shell.page for sheet in SHEETS)
    assert shell.files == single_files()
