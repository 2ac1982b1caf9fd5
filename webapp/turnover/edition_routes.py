"""Which edition of each table is used, site by site, and choosing another."""

from uuid import UUID

from flask import flash, redirect, render_template, url_for
from flask.typing import ResponseReturnValue
from flask_login import current_user

from models.errors import Fault, InputError, NotFoundError
from models.services.criteria import editions as services
from models.services.criteria.editions import SiteEditions, TableInUse
from webapp.clock import new_id, now
from webapp.db import commit, db
from webapp.form_faults import place_faults
from webapp.turnover.edition_forms import END, EditionForm
from webapp.turnover.routes import bp


@bp.get("/editions")
def editions() -> ResponseReturnValue:
    """Show the editions in use at each site."""
    return render_template(
        "turnover/editions.html",
        sites=services.site_editions(db(), person_id=current_user.id),
    )


@bp.get("/sites/<uuid:site_id>/editions/<table_key>")
def edition(site_id: UUID, table_key: str) -> ResponseReturnValue:
    """Show the prints of a table, what was chosen, and a form to choose."""
    site, table = _found(site_id, table_key)
    form = EditionForm(formdata=None, print_key=table.in_use.key)
    return _page(site, table, form)


@bp.post("/sites/<uuid:site_id>/editions/<table_key>")
def choose_edition(site_id: UUID, table_key: str) -> ResponseReturnValue:
    """Record the choice."""
    site, table = _found(site_id, table_key)
    form = EditionForm()
    try:
        services.choose_edition(
            db(),
            person_id=current_user.id,
            site_id=site_id,
            table_key=table_key,
            print_key=_sent_print(form),
            for_owner=form.where.data == "owner",
            document=form.document.data or "",
            reason=form.reason.data or "",
            now=now(),
            new_id=new_id,
        )
    except InputError as error:
        elsewhere = place_faults(form, error)
        return _page(site, table, form, elsewhere), 422
    commit()
    flash(
        "The choice is recorded. Rounds opened from now on are judged by it; "
        "verdicts already given stay until somebody judges again."
    )
    return redirect(url_for(".edition", site_id=site_id, table_key=table_key), code=303)


def _sent_print(form: EditionForm) -> str | None:
    """Return the print that was sent, None where a choice is to end.

    Only what was sent ends a choice: a form that lacks it says nothing.
    """
    sent: str | None = form.print_key.data
    if sent is None:
        raise InputError(Fault(field="print_key", message="Choose the edition."))
    return None if sent == END else sent


def _found(site_id: UUID, table_key: str) -> tuple[SiteEditions, TableInUse]:
    site = services.editions_of_site(db(), person_id=current_user.id, site_id=site_id)
    for table in site.tables:
        if table.key == table_key:
            return site, table
    raise NotFoundError("criteria table", table_key)


def _page(
    site: SiteEditions,
    table: TableInUse,
    form: EditionForm,
    elsewhere: list[str] | None = None,
) -> str:
    form.offer(site, table)
    return render_template(
        "turnover/edition.html",
        site=site,
        table=table,
        form=form,
        elsewhere=elsewhere or [],
    )
