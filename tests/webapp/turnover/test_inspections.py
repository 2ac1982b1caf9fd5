"""Hold, witness and review points in the browser: set, announced, answered."""

from tests.scenario import CR, IR, LEAD, OWNER, PASSWORD, TECHNICIAN
from tests.webapp.desk import Desk


def test_a_point_is_set_announced_and_signed_on_the_technician_s_device(
    desk: Desk,
) -> None:
    with desk.work() as work:
        round_id = work.round_id
        cards = [str(work.card("bus", IR).id), str(work.card("breaker 52", CR).id)]
    lead = desk.person(LEAD)
    path = f"/turnover/rounds/{round_id}/inspections"
    nothing = lead.faulty(path, kind="", party="", notice_hours="soon", reason="")
    assert "no number of hours" in nothing.text
    typed = {"kind": "witness", "party_id": str(OWNER.id), "reason": "clause 7.2"}
    page = lead.faulty(path, notice_hours="24", **typed)
    assert "Choose at least one card." in page.text
    done = lead.follow(lead.post(path, card=cards, notice_hours="24", **typed))
    assert "2 points are set." in done.text
    (point, *_) = [one for one in done.links if "/inspections/" in one]
    owner = desk.person(OWNER)
    assert owner.get("/turnover/inspections").text.count("waits for you") == 2
    assert owner.get(point).status == 200
    assert owner.get(f"/turnover/cards/{cards[0]}").status == 200
    technician = desk.person(TECHNICIAN)
    late = technician.faulty(f"{point}/notice", on=point, how="by letter")
    assert late.text.count("Write day and time") >= 1
    told = {"given_at": "2020-03-01T08:00", "work_at": "2020-03-03T08:00"}
    sent = technician.post(f"{point}/notice", on=point, how="by letter", **told)
    assert "The program sends nothing" in technician.follow(sent).text
    here = {"party-answer": "present", "party-remark": ""}
    wrong = technician.post(
        f"{point}/here", on=point, **here, **{"party-password": "x"}
    )
    assert wrong.status_code == 422
    right = {**here, "party-password": PASSWORD}
    signed = technician.follow(technician.post(f"{point}/here", on=point, **right))
    assert "Present" in signed.text
    assert "There is nothing for you to do here." in signed.text


def test_what_nobody_set_is_not_there(desk: Desk) -> None:
    assert (
        "No point of an open round waits."
        in desk.person(LEAD).get("/turnover/inspections").text
    )
