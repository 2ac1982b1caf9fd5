"""The gate: what still stands between a round and its turnover."""

from dataclasses import dataclass
from uuid import UUID

from sqlalchemy.orm import Session

from models.record.conformity import WORDS
from models.record.editions import editions_sentence
from models.schema import NameplateVersion, Person, Round
from models.services.field.card_facts import CardFacts, gather, round_cards
from models.services.people.access import has_role, may, person_of, round_of
from models.services.setup.confirm_plates import unconfirmed
from models.services.turnover.gate_lines import GateItem, GateLine
from models.services.turnover.gate_open import open_lines
from models.services.turnover.gate_plan import plan_lines
from models.services.turnover.gate_safety import safety_listed, safety_to_settle
from models.services.turnover.gate_settled import settled_lines
from models.services.turnover.gate_tablets import tablets_listed, tablets_to_settle
from models.services.turnover.list_rounds import verdict_counts
from models.services.turnover.seals_wanted import Seals, seals_wanted


@dataclass(frozen=True, slots=True, kw_only=True)
class Gate:
    """The gate of a round, for one person.

    `ready` means that nothing is left but signatures; `may_sign` that this
    person is to sign the package as performed; `may_approve` that this person
    may approve now, else `why_not` says why.
    """

    round_id: UUID
    title: str
    state: str
    still: list[GateLine]
    settled: list[GateLine]
    counts: dict[str, int]
    things: int
    ready: bool
    may_sign: bool
    may_approve: bool
    why_not: str
    seals: Seals
    conformity: str = ""  # the word that the package says as things stand ...
    conformity_reasons: tuple[str, ...] = ()  # ... and why
    editions: str = ""  # which edition an acceptance round's limits come from


def gate(session: Session, *, person_id: UUID, round_id: UUID) -> Gate:
    """Return the gate of the round as this person sees it."""
    person = person_of(session, person_id)
    round_ = round_of(session, person, round_id)
    facts = list(gather(session, round_cards(session, round_.id)).values())
    plates = _unconfirmed(session, round_, facts)
    wanted = seals_wanted(session, round_, facts)
    report = wanted.content.get("safety")
    still = [
        *open_lines(facts, plates),
        *safety_to_settle(round_.id, report),
        *tablets_to_settle(session, round_),
    ]
    ready = not still
    if ready and wanted.missing:
        still.append(_missing_seals(round_, wanted))
    why_not = _why_not(person, round_, facts, wanted, ready=ready)
    return Gate(
        round_id=round_.id,
        title=round_.title,
        state=round_.state,
        still=still,
        settled=[
            *settled_lines(facts),
            *safety_listed(round_.id, report),
            *tablets_listed(session, round_),
            *plan_lines(round_),
        ],
        counts=_counts(facts),
        things=sum(len(line.items) for line in still),
        ready=ready,
        may_sign=ready
        and round_.state == "open"
        and may(person, "record")
        and person.id in {p.id for p in wanted.missing},
        may_approve=not why_not,
        why_not=why_not,
        conformity=WORDS[wanted.content["conformity"]["word"]],
        conformity_reasons=tuple(wanted.content["conformity"]["reasons"]),
        editions=editions_sentence(wanted.content["editions"]),
        seals=wanted,
    )


def _unconfirmed(
    session: Session, round_: Round, facts: list[CardFacts]
) -> list[NameplateVersion]:
    """Return what nobody else confirmed; a round turned over is past that."""
    if round_.state != "open":
        return []
    return unconfirmed(session, [o.card for o in facts if o.state != "withdrawn"])


def took_part(facts: list[CardFacts]) -> dict[UUID, Person]:
    """Return everybody who took a reading or signed a card."""
    people = {r.by_id: r.by for one in facts for r in one.readings}
    return people | {s.by_id: s.by for one in facts for s in one.signatures}


def _why_not(
    person: Person, round_: Round, facts: list[CardFacts], wanted: Seals, *, ready: bool
) -> str:
    if round_.state != "open":
        return f"This round is {round_.state} already."
    if not has_role(person, "lead"):
        return "Approval is the commissioning lead's."
    if person.id in took_part(facts):
        return (
            "You took readings or signed cards of this round: "
            "somebody else has to approve it."
        )
    if not ready:
        return "Settle what stands in the way first."
    if wanted.missing:
        names = " and ".join(p.name for p in wanted.missing)
        return (
            f"{names} performed the tests and has not signed the package yet; "
            "if that signature is not to be had, say why."
        )
    return ""


def _missing_seals(round_: Round, wanted: Seals) -> GateLine:
    return GateLine(
        code="seals",
        mark="open",
        text="The package is not signed by everybody who performed the tests",
        items=[
            GateItem(
                text=f"{person.name} has not signed the package as performed",
                detail="They sign it with their own password.",
                action="Open package",
                target_kind="package",
                target_id=round_.id,
            )
            for person in wanted.missing
        ],
    )


def _counts(facts: list[CardFacts]) -> dict[str, int]:
    counts = verdict_counts(facts)
    standing = [one for one in facts if one.state != "withdrawn"]
    deficiencies = [d for one in facts for d in one.deficiencies]
    return {
        "readings": sum(counts.values()),
        **counts,
        "cards": len(standing),
        "cards_signed": sum(one.state == "signed" for one in standing),
        "cards_withdrawn": len(facts) - len(standing),
        "deficiencies": len(deficiencies),
        "deficiencies_open": sum(d.closing is None for d in deficiencies),
        "superseded": sum(len(one.superseded) for one in facts),
    }
