"""Turn a round into the one plain JSON value that a package is made from."""

import hashlib
from collections.abc import Iterable
from datetime import datetime
from typing import Any

from sqlalchemy import select
from sqlalchemy.orm import Session, selectinload

from models import criteria
from models.procedures import PROCEDURES
from models.record.conformity import Conformity, conformity
from models.record.editions import maintenance_editions
from models.record.findings import Finding
from models.schema import (
    Cell,
    Organisation,
    Person,
    Round,
    SealWaiver,
)
from models.services.field.card_facts import CardFacts
from models.services.field.card_values import where
from models.services.field.card_view import (
    card_json,
    deficiency_json,
    disposition_json,
    identity_json,
    named_rules,
)
from models.services.field.together import asked_together, together_of
from models.services.keeping.log import head, stamp, texted
from models.services.people.access import acting_role
from models.services.planning.changes import plan_json
from models.services.setup.nameplate import lineup_nameplate, nameplate_lines
from models.services.tablets.said import release_sentence
from models.services.tablets.waited_for import releases_of_round
from models.services.turnover.list_rounds import verdict_counts
from models.services.turnover.package_instruments import package_instruments
from models.services.turnover.package_people import package_people
from models.services.turnover.round_files import round_files
from models.services.turnover.safety_content import (
    SafetyContent,
    safety_content,
    with_digest,
)
from models.signing import chain

SCHEMA = "witnessmark-package-2"
SCHEMA_WITH_SAFETY = "witnessmark-package-3"


def round_content(
    session: Session,
    round_: Round,
    facts: list[CardFacts],
    waived: list[SealWaiver],
    until: datetime | None = None,
) -> dict[str, Any]:
    """Return what the package says of the round, without time, log and seals.

    The same round gives the same value, so its digest tells whether anything
    has changed since somebody signed. *until*: acts of safety from later on are left
    out, such as the end of the shift in which a package was signed.
    """
    lineup = round_.lineup
    firm = round_.opened_by.organisation
    safety = safety_content(session, round_, facts, until)
    content = {
        "schema": SCHEMA_WITH_SAFETY if safety else SCHEMA,
        "uid": str(round_.id),
        "revision": round_.revision,
        "zone": lineup.site.zone,
        "conformity": conformity_json(
            conformity(
                [one.value for one in facts],
                round_.outside_let_stand,
                left_out=sum(one.what == "left_out" for one in round_.changes),
            )
        ),
        "disclaimer": criteria.disclaimer(),
        "firm": _party(firm),
        "owner": _party(lineup.site.owner),
        "site": {"name": lineup.site.name, "address": lineup.site.address},
        "editions": maintenance_editions(round_.kind, round_rules(facts)),
        "lineup": {
            "name": lineup.name,
            "gear": lineup.gear,
            "nameplate": [list(line) for line in lineup_nameplate(lineup)],
        },
        "round": _round(round_, facts),
        **plan_json(round_),
        "summary": _summary(facts),
        "cells": _cells(session, round_),
        "cards": [
            {**_sheet(n, one), **_rested(safety, one)}
            for n, one in enumerate(facts, start=1)
        ],
        **_together(round_, facts),
        "deficiencies": [
            _deficiency(one, d) for one in facts for d in one.deficiencies
        ],
        "dispositions": _dispositions(facts),
        "instruments": package_instruments(facts),
        "files": round_files(session, round_, facts),
        **({"safety": safety.report} if safety else {}),
        "people": package_people(facts),
        **_not_waited_for(session, round_),
        "waived": [
            {
                "person": w.person.name,
                "reason": w.reason,
                "by": w.by.name,
                "at": stamp(w.at),
            }
            for w in waived
        ],
    }
    return with_digest(content)


def _together(round_: Round, facts: list[CardFacts]) -> dict[str, Any]:
    """Return what several cards say together, where they do."""
    shown = {str(one.card.id): card_json(one) for one in facts}
    cards = [one.card for one in facts]
    asked = asked_together(round_.lineup, cards)
    cells = {str(c.id): f"{c.number} {c.name}" for c in (f.card.cell for f in facts)}
    found = together_of(asked, shown, named_rules(cards))
    for one in found:
        one["cell"] = cells[one.pop("cell_id")]
    return {"together": found} if found else {}


def _not_waited_for(session: Session, round_: Round) -> dict[str, list[str]]:
    """Return the sentences on tablets that nobody waited for, where there are any."""
    zone = round_.lineup.site.zone
    found = [
        release_sentence(act, zone) for act in releases_of_round(session, round_.id)
    ]
    return {"tablets": found} if found else {}


def _rested(safety: SafetyContent | None, facts: CardFacts) -> dict[str, Any]:
    """Return on which scopes a card rested, where it went by them."""
    found = safety.cards.get(str(facts.card.id)) if safety else None
    return {"safety": found} if found else {}


def content_digest(content: dict[str, Any]) -> str:
    """Return the SHA-256 over the canonical JSON of the content."""
    return hashlib.sha256(chain.canonical(texted(content))).hexdigest()


def freeze(
    session: Session,
    content: dict[str, Any],
    performers: list[Person],
    now: datetime,
) -> dict[str, Any]:
    """Return the package document: the content, with time, log head and seals."""
    seq, last = head(session)
    frozen: dict[str, Any] = texted(
        {
            **content,
            "made_at": stamp(now),
            "log": {"seq": seq, "head": last},
            "seals": [
                *(
                    {
                        "field": f"performed_{n}",
                        "person": person.name,
                        "role": acting_role(person, "record"),
                        "meaning": "performed",
                    }
                    for n, person in enumerate(performers, start=1)
                ),
                {
                    "field": "approved",
                    "person": "",
                    "role": "lead",
                    "meaning": "approved",
                },
            ],
        }
    )
    return frozen


def conformity_json(found: Conformity) -> dict[str, Any]:
    """Return what the cover says: the word, why, and each deviation."""
    return {
        "word": found.word,
        "reasons": found.reasons,
        "deviations": [_finding(one) for one in found.deviations],
    }


def _finding(found: Finding) -> dict[str, Any]:
    return {
        "kind": found.kind,
        "card_id": str(found.card_id),
        "where": found.where,
        "what": found.what,
        "verdict": found.verdict,
        "decided": found.decided,
        "reason": found.reason,
        "by": found.by,
        "at": stamp(found.at),
        "agreed_by": found.agreed_by,
        "agreed_at": stamp(found.agreed_at) if found.agreed_at else None,
    }


def _party(organisation: Organisation) -> dict[str, str]:
    return {"name": organisation.name, "address": organisation.address}


def _round(round_: Round, facts: list[CardFacts]) -> dict[str, Any]:
    times = sorted(r.taken_at for one in facts for r in one.readings)
    return {
        "id": str(round_.id),
        "title": round_.title,
        "kind": round_.kind,
        "programme": round_.programme,
        "opened_at": stamp(round_.opened_at),
        "first_reading_at": stamp(times[0]) if times else None,
        "last_reading_at": stamp(times[-1]) if times else None,
    }


def _summary(facts: list[CardFacts]) -> dict[str, int]:
    counts = verdict_counts(facts)
    deficiencies = [d for one in facts for d in one.deficiencies]
    return {
        "cards": len(facts),
        "cards_withdrawn": sum(one.state == "withdrawn" for one in facts),
        "readings": sum(counts.values()),
        **counts,
        "superseded": sum(len(one.superseded) for one in facts),
        "deficiencies_open": sum(d.closing is None for d in deficiencies),
        "deficiencies_closed": sum(d.closing is not None for d in deficiencies),
    }


def _cells(session: Session, round_: Round) -> list[dict[str, Any]]:
    cells = session.scalars(
        select(Cell)
        .where(Cell.lineup_id == round_.lineup_id, Cell.removed.is_(False))
        .options(selectinload(Cell.apparatus))
        .order_by(Cell.position)
    )
    return [
        {
            "number": cell.number,
            "name": cell.name,
            "kind": cell.kind,
            "bus": cell.bus_label,
            "apparatus": [
                {
                    "label": a.label,
                    "kind": a.kind,
                    "identity": identity_json(a),
                    "nameplate": [list(line) for line in nameplate_lines(a.plate)],
                }
                for a in cell.apparatus
            ],
        }
        for cell in cells
    ]


def _sheet(number: int, facts: CardFacts) -> dict[str, Any]:
    card = facts.card
    shown = card_json(facts)
    labels = {str(p.id): p for p in card.points}
    sources = {item.code: item.source for item in criteria.load_preconditions()}
    rules = _distinct(row.rule_in_force.body for row in facts.readings)
    return {
        "sheet": number,
        "id": str(card.id),
        "state": facts.state,
        "withdrawn": shown["withdrawn"],
        "cell": f"{card.cell.number} {card.cell.name}",
        "apparatus": card.apparatus.label,
        "identity": identity_json(card.apparatus),
        "procedure": card.procedure,
        "title": shown["title"],
        "detail": card.detail,
        "method": PROCEDURES[card.procedure].method,
        "preconditions": [
            {
                "code": c.code,
                "text": c.text,
                "source": sources.get(c.code, ""),
                "state": c.state,
                "reason": c.reason,
                "by": c.by.name,
                "at": stamp(c.at),
            }
            for c in facts.confirmations
        ],
        "rules": rules,
        "readings": [
            {
                **reading,
                "point": labels[reading["point_id"]].label,
                "group": labels[reading["point_id"]].group,
                "rule": rules.index(row.rule_in_force.body),
                "accuracy": row.accuracy,
            }
            for reading, row in zip(shown["readings"], facts.readings, strict=True)
        ],
        "notes": shown["notes"],
        "inspections": shown["inspections"],
        "signatures": [
            {
                "by": signature.by.name,
                "meaning": signature.meaning,
                "at": stamp(signature.at),
                "key": signature.fingerprint,
                "statement": signature.statement,
                "seal": signature.seal,
            }
            for signature in facts.signed
        ],
    }


def round_rules(facts: list[CardFacts]) -> list[dict[str, Any]]:
    """Return the rules of the points of a round, and those its readings hold by."""
    points = (p.stored_rule for one in facts for p in one.card.points)
    bodies = {rule.digest: rule.body for rule in points}
    held = (r.rule_in_force for one in facts for r in one.readings)
    return list((bodies | {rule.digest: rule.body for rule in held}).values())


def _distinct(rules: Iterable[dict[str, Any]]) -> list[dict[str, Any]]:
    """Return each rule once: the points of a card mostly share one."""
    found: list[dict[str, Any]] = []
    for rule in rules:
        if rule not in found:
            found.append(rule)
    return found


def _deficiency(facts: CardFacts, deficiency: Any) -> dict[str, Any]:
    shown = deficiency_json(deficiency)
    return {**shown, "where": where(facts)}


def _dispositions(facts: list[CardFacts]) -> list[dict[str, Any]]:
    rows = []
    for one in facts:
        for reading in one.current:
            found = one.disposition_of(reading)
            if found is None:
                continue
            rows.append(
                {
                    "reading_id": str(reading.id),
                    "where": f"{where(one)} · {reading.point.label}",
                    "verdict": reading.judgement.verdict,
                    **disposition_json(found),
                }
            )
    return rows
