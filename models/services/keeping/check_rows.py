"""Compare every row that people added with what the log says of it."""

import json
from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import Any

from sqlalchemy import select
from sqlalchemy.orm import Session

from models.schema import (
    Agreement,
    Attachment,
    AttachmentWithdrawal,
    CardReturn,
    CardWithdrawal,
    Deficiency,
    DeficiencyClosing,
    Disposition,
    EditionChoice,
    GivenCriterion,
    LogEntry,
    Note,
    PlanChange,
    Round,
    SealWaiver,
    Signature,
    TableCheck,
)
from models.services.criteria.give_criterion import logged
from models.services.keeping.log import texted
from models.signing import chain

Body = dict[str, Any]
Said = list[Any]  # what identifies the row first, then what it must say


@dataclass(frozen=True, slots=True, kw_only=True)
class Kind:
    """A kind of row: what the log says of it, and what the row says."""

    name: str
    table: type[Any]
    actions: tuple[str, ...]
    said: Callable[[str, Body], Said]  # from an entry's subject and body
    stored: Callable[[Any], Said]


def rows_against_log(session: Session) -> Iterator[str]:
    """Yield a fault for every row that is not as the log has it, or is gone."""
    for kind in KINDS:
        stored = (kind.stored(row) for row in session.scalars(select(kind.table)))
        yield from against_log(session, kind.name, kind.actions, kind.said, stored)
    yield from _states_against_log(session)


def against_log(
    session: Session,
    name: str,
    actions: Sequence[str],
    said: Callable[[str, Body], Said],
    stored: Iterable[Said],
) -> Iterator[str]:
    """Yield a fault for each row that the entries of *actions* do not say, or say more.

    *said* gives what an entry says from its subject and body.
    """
    logged: Counter[bytes] = Counter()
    for entry in session.scalars(select(LogEntry).where(LogEntry.action.in_(actions))):
        try:
            what = said(entry.subject, json.loads(entry.body))
            logged[chain.canonical(texted(what))] += 1
        except (ValueError, TypeError, KeyError, AttributeError):
            yield f"log entry {entry.seq} cannot be read"
    there = Counter(chain.canonical(texted(what)) for what in stored)
    yield from differences(name, logged, there)


def differences(
    name: str, said: Counter[bytes], stored: Counter[bytes]
) -> Iterator[str]:
    """Yield a fault for each row that is told and shown differently."""
    told = {json.loads(text)[0] for text in said}
    shown = {json.loads(text)[0] for text in stored}
    for text in sorted(stored - said):
        which = json.loads(text)[0]
        how = "differs from the log" if which in told else "is not in the log"
        yield f"{name} {which} {how}"
    for text in sorted(said - stored):
        which = json.loads(text)[0]
        if which not in shown:
            yield f"{name} {which} of the log is gone"


def _closing_said(subject: str, body: Body) -> Said:
    """A closing is logged on its card by a tablet, on the deficiency by the desk."""
    which = body.get("deficiency") or subject.removeprefix("deficiency ")
    return [which, body["text"], body["reading"]]


def _criterion_stored(row: GivenCriterion) -> Said:
    body = logged(row)
    return [body.pop("key"), f"criterion {row.criterion_id}", body]


def _states_against_log(session: Session) -> Iterator[str]:
    """Compare the state of every round with the signatures in the log."""
    reached: dict[str, str] = {}
    for state in ("approved", "accepted"):
        action = f"sign package as {state}"
        for subject in session.scalars(
            select(LogEntry.subject).where(LogEntry.action == action)
        ):
            reached[subject] = state
    for row in session.scalars(select(Round)):
        wanted = reached.get(f"round {row.id}", "open")
        if row.state != wanted:
            yield f"round {row.id} is {row.state}, where the log says {wanted}"


KINDS = (
    Kind(
        name="note",
        table=Note,
        actions=("note",),
        said=lambda subject, b: [b["key"], subject, b["text"]],
        stored=lambda r: [r.id, f"card {r.card_id}", r.text],
    ),
    Kind(
        name="deficiency",
        table=Deficiency,
        actions=("deficiency",),
        said=lambda _, b: [
            *(b["key"], b["number"], b["text"], b["severity"], b["holder"]),
            b["reading"],
        ],
        stored=lambda r: [
            *(r.id, r.number, r.text, r.severity, r.holder, r.reading_id)
        ],
    ),
    Kind(
        name="closing of deficiency",
        table=DeficiencyClosing,
        actions=("close deficiency",),
        said=_closing_said,
        stored=lambda r: [r.deficiency_id, r.text, r.reading_id],
    ),
    Kind(
        name="disposition of",
        table=Disposition,
        actions=("dispose",),
        said=lambda subject, b: [subject, b["decision"], b["reason"]],
        stored=lambda r: [f"reading {r.reading_id}", r.decision, r.reason],
    ),
    Kind(
        name="return of",
        table=CardReturn,
        actions=("return card",),
        said=lambda subject, b: [subject, b["reason"]],
        stored=lambda r: [f"card {r.card_id}", r.reason],
    ),
    Kind(
        name="withdrawal of",
        table=CardWithdrawal,
        actions=("withdraw card",),
        said=lambda subject, b: [subject, b["reason"]],
        stored=lambda r: [f"card {r.card_id}", r.reason],
    ),
    Kind(
        name="answer to decision",
        table=Agreement,
        actions=("answer decision",),
        said=lambda _, b: [b["decision"], b["answer"], b["reason"]],
        stored=lambda r: [r.disposition_id or r.withdrawal_id, r.answer, r.reason],
    ),
    Kind(
        name="waiver in",
        table=SealWaiver,
        actions=("waive package signature",),
        said=lambda subject, b: [subject, b["of"], b["reason"]],
        stored=lambda r: [f"round {r.round_id}", r.person_id, r.reason],
    ),
    Kind(
        name="change of the plan",
        table=PlanChange,
        actions=("leave out card", "add card", "change points"),
        said=lambda subject, b: [
            *(b["change"], subject, b["cell"], b["apparatus"], b["procedure"]),
            *(b["detail"], b["card"], b["was"], b["reason"], b["by"]),
        ],
        stored=lambda r: [
            *(r.id, f"round {r.round_id}", r.cell_id, r.apparatus_id, r.procedure),
            *(r.detail, r.card_id, r.was, r.reason, r.by_id),
        ],
    ),
    Kind(
        name="choice of an edition",
        table=EditionChoice,
        actions=("choose edition",),
        said=lambda subject, b: [
            *(b["choice"], subject, b["table"], b["print"], b["document"]),
            *(b["reason"], b["version"]),
        ],
        stored=lambda r: [
            r.id,
            f"site {r.site_id}" if r.site_id else f"owner {r.owner_id}",
            *(r.table_key, r.print_key, r.document, r.reason, r.version),
        ],
    ),
    Kind(
        name="signature",
        table=Signature,
        actions=(
            "sign card as performed",
            *(f"sign package as {m}" for m in ("performed", "approved", "accepted")),
        ),
        said=lambda subject, b: [b.get("package") or subject, b["seal"]],
        stored=lambda r: [r.package_id or f"card {r.card_id}", r.seal],
    ),
    Kind(
        name="check of a table row",
        table=TableCheck,
        actions=("check table row",),
        said=lambda subject, b: [
            *(b["key"], subject, b["organisation"], b["row"], b["digest"], b["act"]),
            *(b["figures"], b["edition"], b["clause"], b["reason"], b["supersedes"]),
        ],
        stored=lambda r: [
            *(r.id, f"criteria table {r.table_key}", r.organisation_id, r.row_name),
            *(r.row_digest, r.act, r.figures, r.edition, r.clause, r.reason),
            r.supersedes_id,
        ],
    ),
    Kind(
        name="attachment",
        table=Attachment,
        actions=("attach file",),
        said=lambda subject, b: [
            *(b["attachment"], subject, b["digest"], b["size"], b["kind"]),
            *(b["sent_digest"], b["name"], b["note"]),
        ],
        stored=lambda r: [
            *(r.id, f"{r.subject} {r.subject_id}", r.digest, r.file.size, r.file.kind),
            *(r.sent_digest, r.name, r.note),
        ],
    ),
    Kind(
        name="withdrawal of attachment",
        table=AttachmentWithdrawal,
        actions=("withdraw file",),
        said=lambda _, b: [b["attachment"], b["reason"]],
        stored=lambda r: [r.attachment_id, r.reason],
    ),
    Kind(
        name="criterion",
        table=GivenCriterion,
        actions=("give criterion", "change criterion", "withdraw criterion"),
        said=lambda subject, b: [b.pop("key"), subject, b],
        stored=_criterion_stored,
    ),
)
