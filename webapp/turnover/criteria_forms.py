"""Forms of the given criteria: what is typed goes to the services as it is."""

import re
from collections.abc import Iterable
from uuid import UUID

from flask_wtf import FlaskForm
from wtforms import HiddenField, RadioField, SelectField, StringField, TextAreaField
from wtforms.fields.choices import SelectChoice

from models.judging.quantities import said_unit
from models.procedures import GIVABLE
from models.procedures.given import STANDINGS
from models.services.criteria.criterion_draft import Scope, Wording

UNITS = list(dict.fromkeys(u for one in GIVABLE.values() for u in one.units))
VERSION = re.compile("[0-9]{1,9}")  # Python refuses to read thousands of digits
NOTHING = Scope(apparatus_kind="")  # covers no apparatus: the service says so


class WordingForm(FlaskForm):
    """A figure, where it is written, and why it is entered; *seen* is the version."""

    value = StringField("Figure")
    unit = SelectField(
        "Unit",
        choices=[
            SelectChoice("", "Choose a unit"),
            *(SelectChoice(unit, said_unit(unit)) for unit in UNITS),
        ],
    )
    document = StringField("Document")
    edition = StringField("Edition or revision")
    clause = StringField("Clause, table or page")
    reason = TextAreaField("Reason")
    seen = HiddenField()

    def wording(self) -> Wording:
        """Return what was typed."""
        return Wording(
            text=self.value.data or "",
            unit=self.unit.data or "",
            document=self.document.data or "",
            edition=self.edition.data or "",
            clause=self.clause.data or "",
            reason=self.reason.data or "",
        )

    def begin_with(self, wording: Wording) -> None:
        """Start from a version that there is; the reason is a new one."""
        self.value.data, self.unit.data = wording.text, wording.unit
        self.document.data = wording.document
        self.edition.data, self.clause.data = wording.edition, wording.clause

    def version_seen(self) -> int:
        """Return the version that the page was made from; 0 for nonsense."""
        return version_seen(self.seen.data)


class GiveForm(WordingForm):
    """A new criterion: whose, which figure, what for."""

    standing = RadioField(
        "Whose", choices=[SelectChoice(*one) for one in STANDINGS.items()]
    )
    quantity = SelectField(
        "What is given",
        choices=[
            SelectChoice("", "Choose what is given"),
            *(SelectChoice(key, one.title) for key, one in GIVABLE.items()),
        ],
    )
    scope = SelectField("Given for")

    def offer(self, scopes: Iterable[tuple[str, str]]) -> None:
        """Set what it may be given for."""
        self.scope.choices = [
            SelectChoice("", "Choose what for"),
            *(SelectChoice(*one) for one in scopes),
        ]

    def chosen_scope(self) -> Scope:
        """Return what was chosen; what is none of the choices covers nothing."""
        known = {choice.value for choice in self.scope.choices or ()}
        chosen = self.scope.data or ""
        if not chosen or chosen not in known:
            return NOTHING
        sort, _, name = chosen.partition(":")
        if sort == "kind":
            return Scope(apparatus_kind=name)
        return Scope(apparatus_id=UUID(name)) if name else Scope()


class WithdrawForm(FlaskForm):
    """Where a criterion is withdrawn, and why."""

    document = StringField("Document")
    reason = TextAreaField("Reason")
    seen = HiddenField()

    def version_seen(self) -> int:
        """Return the version that the page was made from; 0 for nonsense."""
        return version_seen(self.seen.data)


def version_seen(text: str | None) -> int:
    """Return a version number from a hidden field; 0 for nonsense."""
    return int(text) if text and VERSION.fullmatch(text) else 0
