"""Signing, approving, fetching the package; going without a signature."""

from collections.abc import Callable
from io import BytesIO
from uuid import UUID

import pikepdf
import pytest

from models.services.turnover.package import MEANINGS
from models.signing.verification import verify_package
from tests.scenario import CR, LEAD, OWNER, PASSWORD, SECOND, TECHNICIAN, VI, fixed_id
from tests.webapp.desk import Desk

DeskAt = Callable[[str], Desk]
PDF = "application/pdf"


@pytest.fixture
def desk(desk_at: DeskAt) -> Desk:
    """A round with every card within and signed by the technician."""
    return desk_at("complete")


@pytest.fixture
def path(desk: Desk) -> str:
    """The address of its package."""
    with desk.work() as work:
        return f"/turnover/rounds/{work.round_id}/package"


@pytest.mark.slow
def test_from_the_first_signature_to_the_file(desk: Desk, path: str) -> None:
    technician, lead = desk.person(TECHNICIAN), desk.person(LEAD)
    page = technician.get(path)
    assert MEANINGS["performed"] in page.text
    page = technician.follow(
        technician.post(f"{path}/performed", on=path, password=PASSWORD)
    )
    assert "You have signed the package as performed" in page.text
    assert MEANINGS["approved"] in lead.get(path).text
    page = lead.follow(lead.post(f"{path}/approved", on=path, password=PASSWORD))
    assert page.headline == "The package is approved"
    fetched = desk.person(OWNER).client.get(f"{path}.pdf")
    assert fetched.mimetype == PDF
    found = verify_package(fetched.data)
    assert [seal.person for seal in found.seals] == [TECHNICIAN.name, LEAD.name]
    assert all(seal.holds for seal in found.seals)


REFUSED = {
    "a technician who performed the tests": (TECHNICIAN, "approved"),
    "a lead before those who performed": (LEAD, "approved"),
    "a lead as performed": (LEAD, "performed"),
    "somebody who performed nothing": (SECOND, "performed"),
}


@pytest.mark.parametrize(("who", "meaning"), REFUSED.values(), ids=REFUSED)
def test_who_may_not_sign_is_told_why_and_nothing_is_stored(
    desk: Desk, path: str, who: object, meaning: str
) -> None:
    visitor = desk.person(who)  # type: ignore[arg-type]
    answer = visitor.post(f"{path}/{meaning}", on=path, password=PASSWORD)
    assert answer.status_code == 409
    assert visitor.get(path).headline == "The package is not made yet"


def test_a_lead_who_performed_does_not_approve(desk_at: DeskAt) -> None:
    desk = desk_at("opened")
    with desk.work() as work:
        work.fill_all(by=LEAD)
        work.seal(LEAD, "performed")
        path = f"/turnover/rounds/{work.round_id}/package"
    lead = desk.person(LEAD)
    assert "somebody else has to approve" in lead.get(path).text
    answer = lead.post(f"{path}/approved", on=path, password=PASSWORD)
    assert answer.status_code == 409
    assert lead.get(path).headline == "The package waits for signatures"


WRONG = {"": "Write your password", "not the password": "does not open your key"}


@pytest.mark.parametrize(("typed", "said"), WRONG.items())
def test_a_wrong_password_signs_nothing(
    desk: Desk, path: str, typed: str, said: str
) -> None:
    technician = desk.person(TECHNICIAN)
    page = technician.faulty(f"{path}/performed", on=path, password=typed)
    assert said in page.faults["password"]
    assert page.fields["password"] == ""
    assert page.headline == "The package is not made yet"


def test_the_draft_says_that_it_is_one(desk: Desk, path: str) -> None:
    answer = desk.person(LEAD).client.get(path.replace("package", "draft.pdf"))
    assert answer.mimetype == PDF
    with pikepdf.open(BytesIO(answer.data)) as pdf:
        assert "DRAFT" in str(pdf.docinfo["/Title"])
        assert not pdf.attachments


def test_an_owner_gets_neither_draft_nor_half_signed_file(
    desk: Desk, path: str
) -> None:
    with desk.work() as work:
        work.seal(TECHNICIAN, "performed")
    client = desk.person(OWNER).client
    assert client.get(f"{path}.pdf").status_code == 404
    assert client.get(path.replace("package", "draft.pdf")).status_code in (403, 404)


def test_once_turned_over_there_is_no_draft(desk_at: DeskAt) -> None:
    desk = desk_at("accepted")
    with desk.work() as work:
        path = f"/turnover/rounds/{work.round_id}/draft.pdf"
    assert desk.person(LEAD).client.get(path).status_code == 409


@pytest.fixture
def both(desk: Desk, path: str) -> str:
    """The package's address, once a second technician has signed a card too."""
    with desk.work() as work:
        work.hand_over("breaker 52", VI, SECOND)
        work.seal(TECHNICIAN, "performed")
    return path


def test_a_missing_signature_is_gone_without_for_a_reason(
    desk: Desk, both: str
) -> None:
    lead = desk.person(LEAD)
    without = f"{both}/without/{SECOND.id}"
    assert without in lead.get(both).links
    page = lead.faulty(without, reason="")
    assert set(page.faults) == {"reason"}
    page = lead.follow(lead.post(without, reason="has left the firm"))
    assert "has left the firm" in page.text
    assert "The round changed after the package was made." in page.text
    assert lead.post(without, on=both, reason="again").status_code == 409


NOBODY = {
    "somebody who performed nothing": LEAD.id,
    "somebody whose signature is there": TECHNICIAN.id,
    "nobody": fixed_id("nobody"),
}


@pytest.mark.parametrize("who", NOBODY.values(), ids=NOBODY)
def test_only_a_missing_signature_can_be_gone_without(
    desk: Desk, both: str, who: UUID
) -> None:
    lead = desk.person(LEAD)
    path = f"{both}/without/{who}"
    assert "This signature is not missing" in lead.get(path).text
    assert lead.post(path, on=both, reason="is away").status_code == 409


def test_only_a_lead_goes_without(desk: Desk, both: str) -> None:
    answer = desk.person(TECHNICIAN).post(
        f"{both}/without/{SECOND.id}", on=both, reason="is away"
    )
    assert answer.status_code == 403


def test_a_change_after_the_first_signature_is_said(desk: Desk, path: str) -> None:
    with desk.work() as work:
        work.seal(TECHNICIAN, "performed")
        work.give_back("bus", CR)
    page = desk.person(LEAD).get(path)
    assert "The round changed after the package was made." in page.text
    assert "1 card not signed" in desk.person(LEAD).get(path[:-8]).text


def test_an_accepted_package_shows_each_signature(desk_at: DeskAt) -> None:
    desk = desk_at("accepted")
    with desk.work() as work:
        path = f"/turnover/rounds/{work.round_id}/package"
    page = desk.person(LEAD).get(path)
    assert page.headline == "The package is accepted"
    for person in (TECHNICIAN, LEAD, OWNER):
        assert person.name in page.text
    assert "mark-open" not in page.html
    assert "pdfsig package.pdf" in page.text
