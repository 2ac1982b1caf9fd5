"""`witnessmark import-lineup`: a lineup from a table, looked at and then saved."""

from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING

import click

from webapp.clock import new_id, now
from webapp.commands.instance import open_database
from webapp.config import load_config

if TYPE_CHECKING:
    from models.record.lineup_draft import LineupDraft


@click.command(name="import-lineup")
@click.argument("file", type=click.Path(exists=True, dir_okay=False, path_type=Path))
@click.option("--site", required=True, help="The site, by its name.")
@click.option("--person", required=True, help="Who enters it, by the sign-in name.")
@click.option("--reason", default="", help="Why nameplates change after readings.")
@click.option("--save", is_flag=True, help="Save it; else it is only looked at.")
def import_lineup_command(
    file: Path, site: str, person: str, reason: str, *, save: bool
) -> None:
    """Read a lineup from FILE (CSV or XLSX) and say what would come.

    A lineup of that name on the site is changed, else it is a new one. The form is
    described in docs/lineup-table.md.
    """
    from models.record.lineup_differences import with_ids  # noqa: PLC0415
    from models.services.setup.lineup_place import place_named  # noqa: PLC0415
    from models.services.setup.save_lineup import save_lineup  # noqa: PLC0415
    from models.services.setup.stored_draft import lineup_draft_of  # noqa: PLC0415

    draft = _read(file)
    with open_database(load_config()) as session:
        person_id, place = place_named(session, person, site, draft.name)
        stored = None
        if place.lineup_id is not None:
            stored, _ = lineup_draft_of(session, person_id, place.lineup_id)
            draft = with_ids(draft, stored)
        for line in _lines(draft, stored):
            click.echo(line)
        if not save:
            click.echo("Nothing is saved: --save does it.")
            return
        save_lineup(
            session,
            person_id=person_id,
            site_id=place.site_id,
            lineup_id=place.lineup_id,
            draft=draft,
            reason=reason,
            now=now(),
            new_id=new_id,
        )
        session.commit()
    click.echo(f"The lineup {draft.name} is saved.")


def _read(file: Path) -> "LineupDraft":
    """Return the lineup in *file*; every fault is said a line each, exit code 2."""
    from models.errors import InputError  # noqa: PLC0415
    from models.services.setup.import_lineup import read_lineup_table  # noqa: PLC0415

    try:
        return read_lineup_table(file.read_bytes())
    except InputError as error:
        for fault in error.faults:
            click.echo(str(fault), err=True)
        click.echo(f"{file}: nothing is saved.", err=True)
        raise SystemExit(2) from error


def _lines(draft: "LineupDraft", stored: "LineupDraft | None") -> Iterator[str]:
    """Yield what would come: counts, differences, what is said of the ratings."""
    from models.record.lineup_differences import differences  # noqa: PLC0415
    from models.record.ratings import ratings_remarks  # noqa: PLC0415

    held = sum(len(cell.apparatus) for cell in draft.cells)
    yield f"{draft.name}: {len(draft.cells)} cells, {held} apparatus."
    for one in differences(stored, draft) if stored else ():
        if one.what:
            before, after = one.before or "not given", one.after or "not given"
            yield f"{one.who}: {one.what}: {before} -> {after}"
        else:
            yield f"{one.who}: {one.change}"
    for remark in ratings_remarks(draft):
        source = f" ({remark.cite.rstrip('.')})" if remark.cite else ""
        yield f"{remark.level}: {remark.text}{source}"
