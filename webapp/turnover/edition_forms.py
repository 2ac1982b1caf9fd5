"""Forms of the pages about editions and judging again."""

from flask_wtf import FlaskForm
from wtforms import HiddenField, RadioField, StringField, TextAreaField
from wtforms.fields.choices import SelectChoice

from models.criteria.prints import Print
from models.services.criteria.editions import SiteEditions, TableInUse

END = ""  # no choice of its own


class EditionForm(FlaskForm):
    """The print of a table that is to be used, where, by which document and why."""

    print_key = RadioField("Edition to use", validate_choice=False)
    where = RadioField("Where", validate_choice=False, default="site")
    document = StringField("Document that says so")
    reason = TextAreaField("Reason")

    def offer(self, site: SiteEditions, table: TableInUse) -> None:
        """Set what may be chosen."""
        self.print_key.choices = [
            *(SelectChoice(p.key, _said(p)) for p in table.prints if not p.refused),
            SelectChoice(END, "No choice of its own any more"),
        ]
        self.where.choices = [
            SelectChoice("site", f"{site.site_name} alone"),
            SelectChoice("owner", f"All sites of {site.owner_name}"),
        ]


def _said(found: Print) -> str:
    return f"{found.cited_as} (the default)" if found.default else found.cited_as


class JudgeAgainForm(FlaskForm):
    """The preview that is confirmed, and why."""

    digest = HiddenField()
    reason = TextAreaField("Reason")
