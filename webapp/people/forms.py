"""Forms of the people's pages: they check shape, services decide."""

from collections.abc import Iterable
from uuid import UUID

from flask_wtf import FlaskForm
from wtforms import (
    DateField,
    HiddenField,
    PasswordField,
    SelectField,
    SelectMultipleField,
    StringField,
    TextAreaField,
)
from wtforms.fields.choices import SelectChoice
from wtforms.validators import EqualTo, InputRequired, Optional
from wtforms.widgets import CheckboxInput, ListWidget

ROLE_WORDS = {
    "lead": "lead: opens rounds, decides on readings, approves",
    "technician": "technician: takes readings, signs cards",
    "owner": "owner: agrees to decisions, accepts what is turned over",
    "administrator": "administrator: people, sites, instruments; signs nothing",
}
KINDS = {"test_firm": "test firm", "owner": "owner"}


def role_choices(roles: Iterable[str]) -> list[SelectChoice]:
    """Return the boxes of these roles, with what each may do."""
    return [SelectChoice(role, ROLE_WORDS[role]) for role in roles]


class RolesField(SelectMultipleField):
    """Roles, each a box to tick."""

    widget = ListWidget(prefix_label=False)
    option_widget = CheckboxInput()


class InviteForm(FlaskForm):
    """A new person."""

    name = StringField("Name")
    sign_in = StringField("Sign-in name")
    organisation = SelectField("Organisation", validate_choice=False)
    roles = RolesField("Roles", choices=role_choices(ROLE_WORDS), validate_choice=False)

    def offer(self, organisations: Iterable[tuple[UUID, str, str]]) -> None:
        """Set the organisations that may be chosen."""
        self.organisation.choices = [
            SelectChoice(str(key), f"{name} ({KINDS[kind]})")
            for key, name, kind in organisations
        ]

    @property
    def organisation_id(self) -> UUID:
        """The organisation that is chosen; the nil identifier where none is."""
        try:
            return UUID(self.organisation.data or "")
        except ValueError:
            return UUID(int=0)


class _Seen(FlaskForm):
    version = HiddenField()  # of the person, as they were shown

    @property
    def seen_version(self) -> int:
        """Return the version that was shown; 0 where it is no number."""
        text = self.version.data or ""
        return int(text) if text.isascii() and text.isdigit() else 0


class RolesForm(_Seen):
    """The roles that a person is to hold."""

    roles = RolesField("Roles", validate_choice=False)

    def offer(self, roles: Iterable[str]) -> None:
        """Set the roles that people of their organisation may hold."""
        self.roles.choices = role_choices(roles)


class WhyForm(_Seen):
    """Why somebody is deactivated or reactivated."""

    reason = TextAreaField("Reason")


class AssignForm(FlaskForm):
    """A site, and the days on which they work there."""

    site = SelectField("Site", validate_choice=False)
    from_day = DateField("First day", validators=[Optional()])
    until_day = DateField("Last day", validators=[Optional()])

    def offer(self, sites: Iterable[tuple[UUID, str]]) -> None:
        """Set the sites that may be chosen."""
        self.site.choices = [
            SelectChoice("", "Choose a site"),
            *(SelectChoice(str(key), name) for key, name in sites),
        ]


class EndForm(FlaskForm):
    """The last day of an assignment."""

    until_day = DateField("Last day", validators=[InputRequired("Choose the day.")])


class EnrolForm(FlaskForm):
    """A password of one's own, twice."""

    password = PasswordField(
        "Password", validators=[InputRequired("Write the password that you choose.")]
    )
    again = PasswordField(
        "Password once more",
        validators=[EqualTo("password", message="This differs from the one above.")],
    )
