"""A round in which something of every kind stands in the way of its turnover."""

from dataclasses import dataclass
from uuid import UUID

from tests.scenario import CR, IR, LEAD, RT, Work, fixed_id


@dataclass(frozen=True, slots=True, kw_only=True)
class Troubled:
    """What a test points at. `own`: a reading that the lead took."""

    round_id: UUID
    outside: UUID
    marginal: UUID
    own: UUID
    deficiency: UUID
    loose: UUID  # a deficiency raised on no reading
    signed_card: UUID
    open_card: UUID
    untouched_card: UUID


def trouble(work: Work) -> Troubled:
    """Bring the round there."""
    work.fill("bus", IR)
    contact = work.fill("breaker 52", CR, "38.6", "39.4", "61.7", sign=False)
    # 5 GOhm is the least for the 15 kV class: 5.05 lies inside U of the tester.
    guarded = work.fill("breaker 52", IR, "9", "9.5", "5.05", *["41"] * 6)
    work.confirm("bus", CR, by=LEAD)
    own = work.read("bus", CR, "22.4", "23.1", "60", by=LEAD)[2]
    work.confirm("relay 51", RT)
    work.read("relay 51", RT, "no_trip")
    card = work.card("breaker 52", CR)
    raised = work.entry(
        card,
        "deficiency",
        text="Pole C finger cluster is loose",
        severity="stops_turnover",
        holder="installer",
        reading_id=str(contact[2]),
    )
    loose = work.entry(
        card,
        "deficiency",
        text="Label of 52 is missing",
        severity="may_follow",
        holder="installer",
    )
    work.store(raised, loose)
    return Troubled(
        round_id=work.round_id,
        outside=contact[2],
        marginal=guarded[2],
        own=own,
        deficiency=UUID(raised["key"]),
        loose=UUID(loose["key"]),
        signed_card=work.card("bus", IR).id,
        open_card=card.id,
        untouched_card=work.card("bus", "dielectric_withstand").id,
    )


def out_of_calibration(work: Work) -> None:
    """Take readings with an instrument that was due the day before."""
    work.fill("breaker 52", IR, sign=False, instrument_id=str(fixed_id("IR-DUE")))
