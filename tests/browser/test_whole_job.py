"""The whole job by clicking: from a reading on a tablet to a baseline."""

import re
import shutil
import subprocess
import sys
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, expect
from sqlalchemy import select

from models.criteria.safety import governs
from models.schema import Authority
from tests.browser.conftest import Served
from tests.browser.crew import (
    DESK,
    OPEN,
    TABLET,
    AtWork,
    check_page,
    open_page,
    record,
    sign_in,
    verdict_at,
)
from tests.browser.give_lines import give_all, make_safe
from tests.scenario import IR, LEAD, OWNER, PASSWORD, TECHNICIAN

pytestmark = [pytest.mark.browser, pytest.mark.needs("poppler", "nss")]

OPEN_IT = re.compile("^Open card ?: Insulation resistance, breaker 52")
CARD = "Insulation resistance · breaker 52"


def test_from_a_reading_on_a_tablet_to_the_baseline(
    browser: Browser, served: Served, tmp_path: Path
) -> None:
    open_round(served)
    technician, tablet = open_page(browser, served, TABLET)
    sign_in(tablet, TECHNICIAN)
    open_card(tablet)
    take_readings(tablet)
    raise_and_close_deficiency(tablet)
    sign_card(tablet)

    desk, page = open_page(browser, served, DESK)
    sign_in(page, LEAD)
    dispose_of_the_marginal_one(page)
    sign_package(tablet)
    pdf = approve(page, tmp_path)
    check_with_pdfsig(pdf, served, tmp_path)
    check_without_a_database(pdf)

    home, book = open_page(browser, served, DESK)
    sign_in(book, OWNER)
    accept(book)
    find_the_baseline(book)
    for context in (technician, desk, home):
        context.close()


def open_round(served: Served) -> None:
    """The rest of the round, as the crew did it on other tablets."""
    with served.session() as session:
        work = AtWork.now(session)
        for label, procedure in work.cards:
            if (label, procedure) != ("breaker 52", IR):
                work.fill(label, procedure)
        session.commit()


def open_card(page: Page) -> None:
    expect(page.get_by_role("heading", name="One round is open")).to_be_visible()
    check_page(page)
    page.get_by_role("link", name="Work on it").click()
    page.get_by_role("link", name=re.compile("^Cell 1, Incomer")).click()
    expect(page.get_by_role("heading", name="Cell 1 · Incomer")).to_be_visible()
    check_page(page)
    page.get_by_role("link", name=OPEN_IT).click()
    expect(page.get_by_role("heading", name=CARD)).to_be_visible()
    expect(page.get_by_text(governs())).to_be_visible()
    check_page(page)
    give_all(page)
    expect(page.get_by_text(OPEN)).to_be_visible()


def take_readings(page: Page) -> None:
    page.get_by_label("Temperature of the insulation").fill("30")
    page.get_by_label("Relative humidity").fill("55")
    expect(page.get_by_label("Test voltage, dc")).to_have_value("2.5")
    page.get_by_label("Instrument").select_option(label="IR-1 · test set IR-1")
    # 1.58 is the published factor for solid insulation at 30 degC, and 5 GOhm the
    # least for the 15 kV class (see tests/models/criteria/test_tables.py).
    page.get_by_label("Reading at A-G").fill("2.10")
    verdict_at(page, "A-G", "outside")
    expect(page.get_by_text("3.318 GΩ at 20 °C")).to_be_visible()
    check_page(page)
    page.get_by_label("Reading at A-G").press("Enter")
    expect(page.get_by_label("Reading at B-G")).to_be_focused()
    record(page, "B-G", "200")
    page.get_by_role("group", name="Point C-G", exact=True).wait_for()
    for point, text in (
        ("C-G", ">50"),
        ("A-B", "61"),
        ("B-C", "63"),
        ("C-A", "60"),
        ("pole A, line to load, open", "3.30"),
        ("pole B, line to load, open", "40"),
        ("pole C, line to load, open", "44"),
    ):
        record(page, point, text)
    verdict_at(page, "C-G", "within")
    verdict_at(page, "pole A, line to load, open", "marginal")
    expect(page.locator("#signal")).to_have_text("Everything is recorded")


def raise_and_close_deficiency(page: Page) -> None:
    row = page.get_by_role("group", name="Point A-G", exact=True)
    row.get_by_role("button", name="Raise deficiency").click()
    page.get_by_label("What is wrong").fill("Dust on the pole A support")
    page.get_by_role("button", name="Raise it").click()
    expect(page.get_by_text("Write who has to put it right.")).to_be_visible()
    expect(page.get_by_label("What is wrong")).to_have_value(
        "Dust on the pole A support"
    )
    page.get_by_label("Who has to put it right").fill("installer")
    page.get_by_role("button", name="Raise it").click()
    expect(page.get_by_text("D-001")).to_be_visible()
    row.get_by_role("button", name="Measure again").click()
    record(page, "A-G", "9.4")
    expect(page.get_by_text("Say why the point is measured again.")).to_be_visible()
    page.get_by_label("Why it is measured again").fill("support wiped clean")
    page.get_by_label("Reading at A-G").press("Enter")
    verdict_at(page, "A-G", "within")
    expect(row.get_by_text("measured again: support wiped clean")).to_be_visible()
    page.get_by_label("How D-001 was put right").fill("wiped, and measured again")
    page.get_by_role("button", name="Close D-001 with this reading").click()
    expect(page.get_by_text("Closed: wiped, and measured again")).to_be_visible()


def sign_card(page: Page) -> None:
    make_safe(page)
    field = page.get_by_label(f"Password of {TECHNICIAN.name}")
    field.fill("not the password")
    page.get_by_role("button", name="Sign as performed").click()
    expect(page.locator("#sign-fault")).not_to_be_empty()
    check_page(page)
    field.fill(PASSWORD)
    page.get_by_role("button", name="Sign as performed").click()
    expect(
        page.get_by_text(f"Signed as performed by {TECHNICIAN.name}")
    ).to_be_visible()
    check_page(page)


def dispose_of_the_marginal_one(page: Page) -> None:
    check_page(page)
    page.get_by_role("link", name="MV-1 · Acceptance round 1").click()
    expect(page.get_by_role("heading", name=re.compile("^Gate: "))).to_be_visible()
    expect(page.get_by_text("1 reading marginal without a disposition")).to_be_visible()
    check_page(page)
    page.get_by_role("link", name=re.compile("^Dispose")).click()
    check_page(page)
    page.get_by_label("use as it is").check()
    page.get_by_role("button", name="Record the decision").click()
    expect(page.locator(".fault").first).to_be_visible()
    page.get_by_label("Reason").fill("5 GΩ lies inside U; on the list for next year")
    page.get_by_role("button", name="Record the decision").click()
    expect(page.get_by_text("marginal without a disposition")).to_have_count(0)


def sign_package(page: Page) -> None:
    page.get_by_role("link", name="‹ Elevation").click()
    page.goto("/field/")
    page.get_by_role("link", name=re.compile("^Package of")).click()
    check_page(page)
    page.get_by_label("Your password").fill(PASSWORD)
    page.get_by_role("button", name="Sign as performed").click()
    expect(
        page.get_by_text("You have signed the package as performed.")
    ).to_be_visible()


def approve(page: Page, folder: Path) -> Path:
    page.reload()
    page.get_by_role("link", name="Approve turnover").click()
    check_page(page)
    page.get_by_label("Your password").fill("not the password")
    page.get_by_role("button", name="Approve turnover").click()
    expect(page.locator(".fault").first).to_be_visible()
    page.get_by_label("Your password").fill(PASSWORD)
    page.get_by_role("button", name="Approve turnover").click()
    expect(page.get_by_role("heading", name="The package is approved")).to_be_visible()
    check_page(page)
    with page.expect_download() as fetched:
        page.get_by_role("link", name="Download the package").click()
    path = folder / "package.pdf"
    fetched.value.save_as(path)
    return path


def root_of(served: Served) -> str:
    with served.session() as session:
        return session.scalars(select(Authority)).one().certificate_pem


def check_with_pdfsig(pdf: Path, served: Served, folder: Path) -> None:
    """An outside program: pdfsig of poppler-utils, trusting this authority only."""
    store, root = folder / "nss", folder / "root.pem"
    store.mkdir()
    root.write_text(root_of(served))
    certutil, pdfsig = shutil.which("certutil"), shutil.which("pdfsig")
    assert certutil
    assert pdfsig
    database = f"sql:{store}"
    new = [certutil, "-N", "-d", database, "--empty-password"]
    add = [
        certutil,
        "-A",
        "-d",
        database,
        "-n",
        "root",
        "-t",
        "CT,C,C",
        "-i",
        str(root),
    ]
    for command in (new, add):
        subprocess.run(command, check=True)
    said = subprocess.run(
        [pdfsig, "-nssdir", database, str(pdf)],
        check=True,
        capture_output=True,
        text=True,
    ).stdout
    assert said.count("Signature is Valid.") == 2
    assert said.count("Certificate is Trusted.") == 2
    for person in (TECHNICIAN, LEAD):
        assert person.name in said


def check_without_a_database(pdf: Path) -> None:
    """`witnessmark verify`, on the package and on one with a byte changed."""
    root = pdf.parent / "root.pem"
    holds = verify(pdf, root)
    assert holds.returncode == 0, holds.stdout + holds.stderr
    assert f"performed_1: {TECHNICIAN.name}" in holds.stdout
    assert f"approved: {LEAD.name}" in holds.stdout
    changed = bytearray(pdf.read_bytes())
    changed[len(changed) // 3] ^= 1
    pdf.with_name("changed.pdf").write_bytes(changed)
    assert verify(pdf.with_name("changed.pdf"), root).returncode == 1


def verify(pdf: Path, root: Path) -> subprocess.CompletedProcess[str]:
    command = [sys.executable, "-m", "webapp.cli", "verify", str(pdf)]
    return subprocess.run(
        [*command, "--root", str(root)],
        cwd=Path(__file__).parents[2],
        capture_output=True,
        text=True,
        check=False,
    )


def accept(page: Page) -> None:
    check_page(page)
    page.get_by_role("link", name="Open the gear book").click()
    check_page(page)
    page.get_by_role("link", name="Look and accept").click()
    check_page(page)
    page.get_by_label("Your password").fill(PASSWORD)
    page.get_by_role("button", name="Accept the package").click()


def find_the_baseline(page: Page) -> None:
    page.goto("/owner/")
    page.get_by_role("link", name="Open the gear book").click()
    # 9.4 GOhm at 30 degC times 1.58.
    row = page.get_by_role("row").filter(has_text="breaker 52").filter(has_text="A-G")
    expect(row.first).to_contain_text("14.85")
    check_page(page)
    row.first.get_by_role("link").first.click()
    check_page(page)
