"""What every page shows of stopped work: where one press stops it, what is stopped.

The site is that of the page, else the one last worked on from this browser, else the
person's only one. Who is not signed in has the one last worked on, at a browser that
somebody has signed in from.
"""

from dataclasses import dataclass, field
from uuid import UUID

from flask import Flask, g, request, session
from flask_login import current_user
from sqlalchemy.orm import Session

from models.services.safety import stops as services
from models.services.safety.stops import StopInForce, StopSite
from webapp.db import SAFE_METHODS, db, open_session
from webapp.known_browser import remember_site, site_last_worked_on

LAST_SITE = "site"  # of the session: the site last worked on


@dataclass(frozen=True, slots=True)
class PageStops:
    """What the head of a page shows; *several*: the site is to be chosen first."""

    site: StopSite | None = None
    several: bool = False
    in_force: list[StopInForce] = field(default_factory=list)


def page_stops() -> PageStops:
    """Return what this page shows, and remember its site as the one worked on."""
    if "page_stops" not in g:
        g.page_stops = _read()
    found: PageStops = g.page_stops
    return found


def _read() -> PageStops:
    """Read it; a page that answers a form reads beside the form's own session.

    That one may hold what is not stored.
    """
    if request.method in SAFE_METHODS:
        return _page_stops(db())
    rows = open_session(reading=True)
    try:
        return _page_stops(rows)
    finally:
        rows.close()


def init_page_stops(app: Flask) -> None:
    """Let every template ask for it."""
    app.jinja_env.globals["page_stops"] = page_stops


def _page_stops(rows: Session) -> PageStops:
    if not current_user.is_authenticated:
        return _at_known_browser(rows)
    view = services.where_to_stop(
        rows,
        person_id=current_user.id,
        named=request.view_args or {},
        last=_last_site(),
    )
    if view.site and str(view.site.id) != session.get(LAST_SITE):
        session[LAST_SITE] = str(view.site.id)
        remember_site(view.site.id)
    return PageStops(view.site, several=view.several, in_force=view.in_force)


def _at_known_browser(rows: Session) -> PageStops:
    site_id = site_last_worked_on()
    site = services.stop_site(rows, site_id) if site_id else None
    if site is None:
        return PageStops()
    return PageStops(site, in_force=services.stops_in_force(rows, [site.id]))


def _last_site() -> UUID | None:
    kept = session.get(LAST_SITE)
    return UUID(kept) if kept else site_last_worked_on()
