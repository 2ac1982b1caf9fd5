"""From the invitation to the first signed card, in a browser."""

from datetime import UTC, datetime
from uuid import UUID

import pytest
from playwright.sync_api import Browser, expect

from tests.browser.conftest import Served
from tests.browser.crew import DESK, TABLET_UPRIGHT, check_page, open_page, sign_in
from tests.scenario import ADMINISTRATOR, CR, SITE, TEST_FIRM, Cast, Work

pytestmark = pytest.mark.browser

CHOSEN = "three terns on the mole"


class Newcomer(Cast):
    """Somebody who is in no list yet: known by the key that the page gives."""

    key: UUID

    @property
    def id(self) -> UUID:
        """The person's identifier."""
        return type(self).key


class Today(Work):
    """Work at the time of the machine: the server goes by it too."""

    def tick(self, **_duration: float) -> datetime:
        """Return the time."""
        self.at = datetime.now(UTC)
        return self.at


def test_who_is_invited_enrols_and_signs_a_card(
    browser: Browser, served: Served
) -> None:
    with served.session() as session:
        work = Work.begin(session)
        session.commit()
        round_id = work.round_id
    desk, page = open_page(browser, served, DESK)
    sign_in(page, ADMINISTRATOR)
    page.goto("/people/")
    check_page(page)
    page.get_by_role("link", name="Invite a person").click()
    check_page(page)
    page.get_by_label("Name", exact=True).fill("Una Sanderling")
    page.get_by_label("Sign-in name").fill("sanderling")
    page.get_by_label("Organisation").select_option(label=f"{TEST_FIRM} (test firm)")
    page.get_by_label("technician").check()
    page.get_by_role("button", name="Invite and show the link").click()
    expect(page.get_by_role("img", name="QR code")).to_be_visible()
    check_page(page)
    link = page.locator("#link").inner_text()
    page.get_by_role("link", name="Done").click()
    Newcomer.key = UUID(page.url.rsplit("/", 1)[1])
    newcomer = Newcomer("sanderling", "Una Sanderling", "technician", TEST_FIRM)
    check_page(page)

    tablet, own = open_page(browser, served, TABLET_UPRIGHT)
    own.goto(link)
    expect(own.get_by_text(ADMINISTRATOR.name)).to_be_visible()
    check_page(own)
    own.get_by_label("Password", exact=True).fill(CHOSEN)
    own.get_by_label("Password once more").fill(CHOSEN)
    own.get_by_role("button", name="Enrol").click()
    expect(own.get_by_text("You are enrolled and signed in")).to_be_visible()

    page.reload()
    page.get_by_label("Site", exact=True).select_option(label=SITE)
    page.get_by_role("button", name="Assign").click()
    expect(page.get_by_text("The site is assigned.")).to_be_visible()
    with served.session() as session:
        work = Today.resume(session)
        work.fill("breaker 52", CR, by=newcomer, sign=False)
        session.commit()
    own.goto(f"/field/rounds/{round_id}/")
    own.get_by_label("Password of Una Sanderling").fill(CHOSEN)
    own.get_by_role("button", name="Sign as performed").click()
    expect(own.get_by_text("1 of 7 cards signed")).to_be_visible()
    own.goto(link)
    expect(own.get_by_role("heading", name="This link was used")).to_be_visible()
    check_page(own)
    page.get_by_role("link", name="Deactivate").click()
    check_page(page)
    desk.close()
    tablet.close()
