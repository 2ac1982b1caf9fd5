"""Which edition of a table is used: chosen per owner, or for one site of theirs."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import datetime
from uuid import UUID

from sqlalchemy import select
from sqlalchemy.orm import Session, joinedload

from models.criteria.prints import IN_RULES, Print, choices, prints_of
from models.errors import ConflictError, Fault, ForbiddenError, InputError
from models.schema import EditionChoice, Person, Site
from models.services.keeping.log import append_log, take_turn
from models.services.keeping.texts import text_faults
from models.services.people.access import (
    has_role,
    may,
    person_of,
    require,
    site_of,
    visible_sites,
)


@dataclass(frozen=True, slots=True, kw_only=True)
class TableInUse:
    """One table at one site: its prints, the one in use and who chose it.

    *choice* is the choice that holds, None where nobody chose; *history* are all
    choices that were ever made for it here, the newest first.
    """

    key: str
    title: str
    prints: Sequence[Print]
    in_use: Print
    choice: EditionChoice | None
    history: Sequence[EditionChoice]

    @property
    def of_site(self) -> bool:
        """Whether the choice that holds was made for this site alone."""
        return self.choice is not None and self.choice.site_id is not None


@dataclass(frozen=True, slots=True, kw_only=True)
class SiteEditions:
    """The editions in use at a site, and what this person may do about them."""

    site_id: UUID
    site_name: str
    owner_name: str
    zone: str
    tables: Sequence[TableInUse]
    may_choose: bool
    may_choose_for_owner: bool


def prints_in_use(session: Session, site: Site) -> dict[str, str]:
    """Return the print in use, by the key of its table, where somebody chose one."""
    found = {}
    for key, held in _held(_choices(session, site)).items():
        if held.print_key is not None and held.print_key != key:
            found[key] = held.print_key
    return found


def site_editions(session: Session, *, person_id: UUID) -> list[SiteEditions]:
    """Return the editions in use at each site that the person may see."""
    person = person_of(session, person_id)
    sites = session.scalars(
        select(Site)
        .where(Site.id.in_(visible_sites(person)))
        .options(joinedload(Site.owner))
        .order_by(Site.name, Site.id)
    )
    return [_site_editions(session, person, site) for site in sites]


def editions_of_site(
    session: Session, *, person_id: UUID, site_id: UUID
) -> SiteEditions:
    """Return the editions in use at a site; NotFoundError if it is not theirs."""
    person = person_of(session, person_id)
    return _site_editions(
        session, person, site_of(session, person, site_id, "see record")
    )


def choose_edition(
    session: Session,
    *,
    person_id: UUID,
    site_id: UUID,
    table_key: str,
    print_key: str | None,
    for_owner: bool,
    document: str,
    reason: str,
    now: datetime,
    new_id: Callable[[], UUID],
) -> UUID:
    """Choose the print of a table for a site, or *for_owner* for all of the owner's.

    Rules that are compiled from now on rest on it; verdicts already given stay
    until somebody judges again. A lead chooses for a site they work on, the
    owner's engineer also for all of the owner's. *print_key* None ends a choice.
    Raises InputError for a print that cannot stand there and for what is not
    said, ConflictError where it is in use already.
    """
    take_turn(session)
    person = person_of(session, person_id)
    require(person, "choose editions")
    site = site_of(session, person, site_id, "choose editions")
    if for_owner and not has_role(person, "owner"):
        raise ForbiddenError("The owner's engineer chooses for all of their sites.")
    faults = [
        *_print_faults(table_key, print_key),
        *text_faults("document", document, "which document says so"),
        *text_faults("reason", reason, "why this edition is used"),
    ]
    if faults:
        raise InputError(*faults)
    before = [
        c
        for c in _choices(session, site)
        if c.table_key == table_key and (c.site_id is None) == for_owner
    ]
    if (before[-1].print_key if before else None) == print_key:
        raise ConflictError("This is what is chosen there already.")
    choice = EditionChoice(
        id=new_id(),
        owner_id=site.owner_id,
        site_id=None if for_owner else site.id,
        table_key=table_key,
        print_key=print_key,
        document=document.strip(),
        reason=reason.strip(),
        version=len(before) + 1,
        by_id=person.id,
        at=now,
    )
    session.add(choice)
    session.flush()
    _log(session, choice, now)
    return choice.id


def _log(session: Session, choice: EditionChoice, now: datetime) -> None:
    where = f"site {choice.site_id}" if choice.site_id else f"owner {choice.owner_id}"
    append_log(
        session,
        actor_id=choice.by_id,
        action="choose edition",
        subject=where,
        body={
            "choice": str(choice.id),
            "table": choice.table_key,
            "print": choice.print_key,
            "document": choice.document,
            "reason": choice.reason,
            "version": choice.version,
        },
        now=now,
    )


def _print_faults(table_key: str, print_key: str | None) -> list[Fault]:
    if table_key not in IN_RULES:
        return [Fault(field="table_key", message="Choose one of the tables listed.")]
    if print_key is None:
        return []
    for one in prints_of(table_key):
        if one.key == print_key:
            if one.refused:
                return [Fault(field="print_key", message=one.refused)]
            return []
    return [Fault(field="print_key", message="Choose one of the prints listed.")]


def _choices(session: Session, site: Site) -> list[EditionChoice]:
    """Return the choices that concern a site: its own and its owner's, in order."""
    return list(
        session.scalars(
            select(EditionChoice)
            .where(
                EditionChoice.owner_id == site.owner_id,
                EditionChoice.site_id.is_(None) | (EditionChoice.site_id == site.id),
            )
            .options(joinedload(EditionChoice.by))
            .order_by(EditionChoice.version)
        )
    )


def _held(found: Sequence[EditionChoice]) -> dict[str, EditionChoice]:
    """Return the choice that holds, by table: the site's before the owner's."""
    newest = {(c.table_key, c.site_id is not None): c for c in found}
    held = {}
    for key in IN_RULES:
        own, owners = newest.get((key, True)), newest.get((key, False))
        for choice in (own, owners):
            if choice is not None and choice.print_key is not None:
                held[key] = choice
                break
    return held


def _site_editions(session: Session, person: Person, site: Site) -> SiteEditions:
    found = _choices(session, site)
    held = _held(found)
    return SiteEditions(
        site_id=site.id,
        site_name=site.name,
        owner_name=site.owner.name,
        zone=site.zone,
        tables=[
            _table(key, prints, held.get(key), found)
            for key, prints in choices().items()
        ],
        may_choose=may(person, "choose editions"),
        may_choose_for_owner=has_role(person, "owner"),
    )


def _table(
    key: str,
    prints: Sequence[Print],
    choice: EditionChoice | None,
    found: Sequence[EditionChoice],
) -> TableInUse:
    chosen = choice.print_key if choice else key
    own = [c for c in found if c.table_key == key]
    return TableInUse(
        key=key,
        title=prints[0].title,
        prints=prints,
        in_use=next(p for p in prints if p.key == chosen),
        choice=choice,
        history=sorted(own, key=lambda c: c.at, reverse=True),
    )
