"""A package document as `freeze_round` makes it, with true verdicts.

Everything but the judgements is invented; those come from the judging core and
the published tables. Numbers are text afterwards, as in a frozen document.
"""

from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from functools import lru_cache
from typing import Any
from uuid import UUID, uuid5

from models import criteria
from models.judging import Accuracy, Reading, Rule
from models.procedures import PROCEDURES, Subject, compile_rule, judge
from models.services.keeping.log import texted

SPACE = UUID("6f0c1f6e-6d0f-4d5e-9a53-1d7a3c1b2e40")
BEGAN = datetime(2026, 11, 25, 9, 0, tzinfo=UTC)
TECHNICIAN, LEAD = "R. Sample", "M. Example"
KEY = ":".join(["5A"] * 32)
PLATE = {"gear": "metal_clad", "rated_kv": 15.0, "rated_withstand_kv": 36.0}

CONFIRMED = ("G01", "G02", "G07", "P01")


@dataclass(frozen=True, kw_only=True)
class Typed:
    """One reading as somebody typed it."""

    point: str
    text: str
    unit: str | None
    conditions: dict[str, Any]
    again_because: str = ""  # it supersedes the one before at the same point
    disposed: tuple[str, str] | None = None  # decision, reason


def name(words: str) -> str:
    """Return a fixed identifier for *words*."""
    return str(uuid5(SPACE, words))


def at(minutes: int) -> str:
    """Return a time as the document writes it."""
    return (BEGAN + timedelta(minutes=minutes)).isoformat().replace("+00:00", "Z")


def card(
    sheet: int,
    *,
    cell: str,
    apparatus: str,
    procedure: str,
    detail: str,
    subject: dict[str, Any],
    instrument: str,
    accuracy: Accuracy | None,
    typed: list[Typed],
    **rest: Any,
) -> dict[str, Any]:
    """Return a card of the document, its readings judged as one group."""
    rule = compile_rule(procedure, Subject(**PLATE | subject), criteria.load())
    readings = _readings(sheet, typed, rule, accuracy, instrument)
    found = PROCEDURES[procedure]
    made: dict[str, Any] = {
        "sheet": sheet,
        "id": name(f"card {sheet}"),
        "state": "signed",
        "withdrawn": None,
        "cell": cell,
        "apparatus": apparatus,
        "identity": {
            "maker": None,
            "type": None,
            "serial": f"V-{2200 + sheet}",
            "built_year": 2023,
        },
        "procedure": procedure,
        "title": found.title,
        "detail": detail,
        "method": found.method,
        "preconditions": _preconditions(sheet, procedure),
        "rules": [rule.to_json()],
        "readings": readings,
        "notes": [],
        "signatures": [
            {
                "by": TECHNICIAN,
                "meaning": "performed",
                "at": at(sheet * 60 + 45),
                "key": KEY,
                "statement": "{}",
                "seal": "",
            }
        ],
    }
    return made | rest


def _readings(
    sheet: int,
    typed: list[Typed],
    rule: Rule,
    accuracy: Accuracy | None,
    instrument: str,
) -> list[dict[str, Any]]:
    rows: list[dict[str, Any]] = []
    for n, one in enumerate(typed):
        older = next((r for r in reversed(rows) if r["point"] == one.point), None)
        taken = at(sheet * 60 + 3 * n)
        row = {
            "id": name(f"reading {sheet} {n}"),
            "point_id": name(f"point {sheet} {one.point}"),
            "text": one.text,
            "unit": one.unit,
            "conditions": one.conditions,
            "instrument_id": name(instrument),
            "instrument": instrument,
            "calibrated": True,
            "by": TECHNICIAN,
            "taken_at": taken,
            "arrived_at": at(600),
            "supersedes": older["id"] if older else None,
            "superseded_by": None,
            "reason": one.again_because or None,
            "disposition": _disposition(one),
            "point": one.point,
            "group": "closed",
            "rule": 0,
            "accuracy": _plain(accuracy),
        }
        if older:
            older["superseded_by"] = row["id"]
        rows.append(row)
    holding = [n for n, row in enumerate(rows) if not row["superseded_by"]]
    for group in (holding, [n for n in range(len(rows)) if n not in holding]):
        items = [(rule, _as_judged(typed[n], accuracy)) for n in group]
        for n, judgement in zip(group, judge(items), strict=True):
            rows[n]["judgement"] = judgement.as_json()
    return rows


def _plain(accuracy: Accuracy | None) -> dict[str, Any]:
    if accuracy is None:
        return {}
    return {"pct": accuracy.pct, "fixed": accuracy.fixed, "unit": accuracy.unit}


def _as_judged(one: Typed, accuracy: Accuracy | None) -> Reading:
    return Reading(
        key=one.point,
        text=one.text,
        unit=one.unit,
        accuracy=accuracy,
        conditions=one.conditions,
    )


def _disposition(one: Typed) -> dict[str, Any] | None:
    if one.disposed is None:
        return None
    decision, reason = one.disposed
    return {
        "decision": decision,
        "decision_text": decision.replace("_", " "),
        "reason": reason,
        "by": LEAD,
        "at": at(700),
        "answer": None,
    }


def _preconditions(sheet: int, procedure: str) -> list[dict[str, Any]]:
    book = {item.code: item for item in criteria.load_preconditions()}
    codes = [*CONFIRMED, *PROCEDURES[procedure].preconditions]
    rows = [
        {
            "code": code,
            "text": book[code].text,
            "source": book[code].source,
            "state": "confirmed",
            "reason": None,
            "by": TECHNICIAN,
            "at": at(sheet * 60 - 20),
        }
        for code in codes
        if code in book
    ]
    rows[1] |= {
        "state": "not_applicable",
        "reason": "the second person is on the far side of the barrier",
    }
    return rows


def sample_cards() -> list[dict[str, Any]]:
    """Return four cards: a superseded reading, an over-range one, a relay's curve."""
    warm = {"temperature_c": 31.0, "humidity_pct": 58.0, "test_kv": 2.5}
    bench = {"temperature_c": 24.0, "test_current_a": 200.0}
    held = {"supply": "ac", "test_kv": 27.0, "duration_s": 60.0}
    return [
        card(
            1,
            cell="1 Incomer A",
            apparatus="breaker 52-1",
            procedure="insulation_resistance",
            detail="closed, each pole to ground; open, across each pole",
            subject={"insulation": "solid"},
            instrument="IR-07",
            accuracy=Accuracy(pct=5.0, fixed=0.02, unit="GOhm"),
            typed=[
                Typed(point="A-G", text="8.40", unit="GOhm", conditions=warm),
                Typed(point="B-G", text=">200", unit="GOhm", conditions=warm),
                Typed(point="C-G", text="2.10", unit="GOhm", conditions=warm),
                Typed(
                    point="C-G",
                    text="7.95",
                    unit="GOhm",
                    conditions=warm,
                    again_because="barrier wiped dry, lead re-seated",
                ),
                Typed(
                    point="pole A, line to load, open",
                    text="6.3",
                    unit="GOhm",
                    conditions=warm | {"temperature_c": None},
                ),
            ],
            notes=[
                {
                    "text": "Barrier behind pole C was damp on arrival.",
                    "by": TECHNICIAN,
                    "at": at(70),
                }
            ],
        ),
        card(
            2,
            cell="3 Intake pumps 1 and 2",
            apparatus="breaker 52-3",
            procedure="contact_resistance",
            detail="closed, terminal to terminal, each pole",
            subject={"conductor": "copper", "limit": 60.0, "limit_unit": "uOhm"},
            instrument="CR-02",
            accuracy=Accuracy(pct=0.5, fixed=0.2, unit="uOhm"),
            typed=[
                Typed(point="pole A", text="41.2", unit="uOhm", conditions=bench),
                Typed(
                    point="pole B",
                    text="60.8",
                    unit="uOhm",
                    conditions=bench,
                    disposed=("use_as_is", "The maker was asked and agrees."),
                ),
                Typed(point="pole C", text="70.4", unit="uOhm", conditions=bench),
            ],
        ),
        card(
            3,
            cell="1 Incomer A",
            apparatus="relay 51-1",
            procedure="relay_timing",
            detail="secondary injection at multiples of the set pickup",
            subject={
                "curve": "ieee_very_inverse",
                "pickup_a": 480.0,
                "time_dial": 2.0,
                "tolerance_pct": 5.0,
                "tolerance_s": 0.035,
            },
            instrument="RT-04",
            accuracy=Accuracy(pct=0.05, fixed=0.001, unit="s"),
            typed=[
                Typed(
                    point="2 × pickup",
                    text="14.1",
                    unit="s",
                    conditions={"applied_a": 960.0},
                ),
                Typed(
                    point="5 × pickup",
                    text="2.65",
                    unit="s",
                    conditions={"applied_a": 2400.0},
                ),
                Typed(
                    point="10 × pickup",
                    text="1.52",
                    unit="s",
                    conditions={"applied_a": 4800.0},
                ),
            ],
        ),
        card(
            4,
            cell="1 Incomer A",
            apparatus="bus A",
            procedure="dielectric_withstand",
            detail="each phase, the others grounded",
            subject={},
            instrument="HV-01",
            accuracy=None,
            typed=[
                Typed(point="A", text="held", unit=None, conditions=held),
                Typed(
                    point="B",
                    text="held",
                    unit=None,
                    conditions=held | {"duration_s": 45.0},
                ),
            ],
        ),
    ]


@lru_cache(maxsize=8)
def sample_document(copies: int = 1) -> dict[str, Any]:
    """Return the document; its cards *copies* times over for a large one."""
    cards = [
        one | {"sheet": n * 4 + one["sheet"]}
        for n in range(copies)
        for one in sample_cards()
    ]
    held = [r for c in cards for r in c["readings"] if not r["superseded_by"]]
    verdicts = [r["judgement"]["verdict"] for r in held]
    counts = {
        v: verdicts.count(v) for v in ("within", "marginal", "outside", "unjudged")
    }
    document: dict[str, Any] = {
        "schema": "witnessmark-package-2",
        "uid": name("round"),
        "revision": 0,
        "zone": "Europe/Lisbon",
        "conformity": {
            "word": "does_not_conform",
            "reasons": [
                "2 readings are outside.",
                "2 readings are unjudged: unknown is never a pass.",
                "1 open deficiency stops turnover.",
            ],
            "deviations": [],
        },
        "disclaimer": criteria.disclaimer(),
        "firm": {"name": "Harbour Test Company", "address": "6 Old Rope Walk"},
        "owner": {"name": "Quillon Bay Water", "address": "1 Weir Road"},
        "site": {
            "name": "Saltmarsh pumping works",
            "address": "Saltmarsh, Quillon Bay",
        },
        "editions": ["ANSI/NETA MTS-2019 Table 100.1"],
        "lineup": {
            "name": "MV-1",
            "gear": "metal_clad",
            "nameplate": [
                ["Gear", "metal-clad, draw-out vacuum breakers"],
                ["Serial number", "MC-15-0417"],
                ["Rated maximum voltage", "15 kV"],
                ["Rated power-frequency withstand", "36 kV"],
                ["Rated continuous current", "2000 A"],
            ],
        },
        "round": {
            "id": name("round"),
            "title": "Acceptance round 1",
            "kind": "acceptance",
            "programme": "Acceptance, any gear",
            "opened_at": at(0),
            "first_reading_at": at(60),
            "last_reading_at": at(249),
        },
        "summary": {
            "cards": len(cards),
            "cards_withdrawn": 0,
            "readings": len(held),
            **counts,
            "superseded": copies,
            "deficiencies_open": 1,
            "deficiencies_closed": 1,
        },
        "cells": [
            {"number": n, "name": words, "kind": kind, "bus": bus, "apparatus": []}
            for n, words, kind, bus in (
                ("1", "Incomer A", "breaker", "bus A · 2000 A"),
                ("2", "VT and metering", "vt", "bus A · 2000 A"),
                ("3", "Intake pumps 1 and 2", "breaker", "bus A · 2000 A"),
                ("4", "Bus tie", "bus_tie", "bus A · 2000 A"),
                ("5", "Screens and chlorination", "breaker", "bus B · 2000 A"),
                ("6", "Incomer B", "breaker", "bus B · 2000 A"),
            )
        ],
        "cards": cards,
        "deficiencies": _deficiencies(cards),
        "dispositions": _dispositions(cards),
        "instruments": _instruments(),
        "files": [_file("pole C.jpg", None), _file("other bay.jpg", "of another bay")],
        "people": [
            {
                "name": who,
                "role": role,
                "organisation": "Harbour Test Company",
                "key": KEY,
            }
            for who, role in ((LEAD, "lead"), (TECHNICIAN, "technician"))
        ],
        "waived": [
            {
                "person": "S. Former",
                "reason": "left the firm before the round was closed",
                "by": LEAD,
                "at": at(720),
            }
        ],
        "made_at": at(800),
        "log": {"seq": 412, "head": "9c" * 32},
        "seals": [
            {
                "field": "performed_1",
                "person": TECHNICIAN,
                "role": "technician",
                "meaning": "performed",
            },
            {"field": "approved", "person": "", "role": "lead", "meaning": "approved"},
        ],
    }
    frozen: dict[str, Any] = texted(document)
    return frozen


def _file(shown: str, gone: str | None) -> dict[str, Any]:
    return {
        "where": "Cell 3 · breaker 52-3 · contact resistance",
        "id": name(shown),
        "subject": "card",
        "subject_id": name("card 2"),
        "name": shown,
        "media_type": "image/jpeg",
        "size": 734_512,
        "sha256": "7a" * 32,
        "sent_sha256": "7b" * 32,
        "note": "as found",
        "by": TECHNICIAN,
        "at": at(150),
        "withdrawn": {"by": LEAD, "at": at(160), "reason": gone} if gone else None,
    }


def _deficiencies(cards: list[dict[str, Any]]) -> list[dict[str, Any]]:
    return [
        {
            "id": name("D-001"),
            "number": "D-001",
            "text": "Pole C is above the maker's limit: contacts to be dressed.",
            "severity": "stops_turnover",
            "severity_text": "stops turnover",
            "holder": "maker's service",
            "reading_id": cards[1]["readings"][2]["id"],
            "card_id": cards[1]["id"],
            "state": "open",
            "raised_by": TECHNICIAN,
            "raised_at": at(140),
            "closed_by": None,
            "closed_at": None,
            "closing_text": None,
            "closing_reading_id": None,
            "where": "Cell 3 · breaker 52-3 · contact resistance",
        },
        {
            "id": name("D-002"),
            "number": "D-002",
            "text": "Moisture behind the barrier of pole C.",
            "severity": "may_follow",
            "severity_text": "may follow turnover",
            "holder": "test crew",
            "reading_id": cards[0]["readings"][2]["id"],
            "card_id": cards[0]["id"],
            "state": "closed",
            "raised_by": TECHNICIAN,
            "raised_at": at(68),
            "closed_by": TECHNICIAN,
            "closed_at": at(71),
            "closing_text": "Wiped dry, heater switched on, measured again.",
            "closing_reading_id": cards[0]["readings"][3]["id"],
            "where": "Cell 1 · breaker 52-1 · insulation resistance",
        },
    ]


def _dispositions(cards: list[dict[str, Any]]) -> list[dict[str, Any]]:
    return [
        {
            "reading_id": r["id"],
            "where": f"Cell {c['cell']} · {c['apparatus']} · {r['point']}",
            "verdict": r["judgement"]["verdict"],
            **r["disposition"],
        }
        for c in cards
        for r in c["readings"]
        if r["disposition"]
    ]


def _instruments() -> list[dict[str, Any]]:
    return [
        {
            "tag": tag,
            "name": words,
            "serial": serial,
            "accuracy": accuracy,
            "calibrated_on": "2026-03-03",
            "due_on": "2027-03-09",
            "certificate_no": f"C26-{serial}",
            "laboratory": "Sextant Calibration Room",
        }
        for tag, words, serial, accuracy in (
            ("CR-02", "200 A micro-ohmmeter", "31840", "0.5 % of reading + 0.2 uOhm"),
            ("HV-01", "60 kV ac test set", "5512", "not given"),
            ("IR-07", "5 kV insulation tester", "70113", "5 % of reading + 0.02 GOhm"),
            ("RT-04", "relay test set", "88027", "0.05 % of reading + 0.001 s"),
        )
    ]
