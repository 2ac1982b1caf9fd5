"""Forms of the set-up pages: they check shape, services decide."""

from collections.abc import Iterable
from typing import Any
from uuid import UUID

from flask_wtf import FlaskForm
from wtforms import SelectField, StringField, TextAreaField
from wtforms.fields.choices import SelectChoice

from models.fields import field as field_named
from models.services.setup.sites import CORRECTION
from models.services.setup.zones import zones

CONTACT_CORRECTION = field_named(CORRECTION)

NEW_OWNER = "new"


class OwnerForm(FlaskForm):
    """An owner of sites."""

    name = StringField("Name")
    address = TextAreaField("Address")


class SiteForm(FlaskForm):
    """A site: where it is, and what its clocks show."""

    name = StringField("Name of the site")
    address = TextAreaField("Address")
    zone = SelectField("Time zone", validate_choice=False)

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        """Offer every zone by its region, the likeliest where nothing is chosen."""
        super().__init__(*args, **kwargs)
        self.zone.choices = {"": [SelectChoice("", "Choose a time zone")]} | {
            region: [SelectChoice(name, _said(name)) for name in names]
            for region, names in zones().items()
        }

    def suggest(self, zone: str) -> None:
        """Choose *zone* where nothing is chosen yet."""
        self.zone.data = self.zone.data or zone


class ChangeSiteForm(SiteForm):
    """What may be changed of a site besides."""

    contact_correction = SelectField(
        "Contact resistance is compared",
        choices=[
            SelectChoice(choice, CONTACT_CORRECTION.choice_words(choice))
            for choice in CONTACT_CORRECTION.choices
        ],
        validate_choice=False,
    )


class NewSiteForm(SiteForm):
    """A new site, and its owner: one that is known, or a new one."""

    owner = SelectField("Owner", validate_choice=False)
    owner_name = StringField("Name of the new owner")
    owner_address = TextAreaField("Address of the new owner")

    def offer(self, owners: Iterable[tuple[UUID, str]], chosen: str = "") -> None:
        """Set the owners that may be chosen; with none yet, a new one is."""
        known = [SelectChoice(str(key), name) for key, name in owners]
        first = [SelectChoice("", "Choose the owner")] if known else []
        new = SelectChoice(NEW_OWNER, "a new owner, named below")
        self.owner.choices = [*first, *known, new]
        if not self.owner.data:
            self.owner.data = chosen or ("" if known else NEW_OWNER)

    @property
    def names_new_owner(self) -> bool:
        """Whether the owner is entered together with the site."""
        return bool(self.owner.data == NEW_OWNER)

    @property
    def owner_id(self) -> UUID:
        """The owner that is chosen; the nil identifier where none is."""
        try:
            return UUID(self.owner.data or "")
        except ValueError:
            return UUID(int=0)


def _said(zone: str) -> str:
    return zone.replace("_", " ")
