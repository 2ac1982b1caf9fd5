"""The pages of the set-up, in the order in which they are offered."""

from typing import NamedTuple

from flask import Flask, request, url_for
from flask_login import current_user

SET_UP = ("lead", "administrator")
ADMINISTER = ("administrator",)


class Way(NamedTuple):
    """A page of the set-up, and the roles that it is for."""

    endpoint: str
    words: str
    roles: tuple[str, ...]

    @property
    def address(self) -> str:
        """Where the page is."""
        return url_for(self.endpoint)

    @property
    def here(self) -> bool:
        """Whether the page that is shown belongs to this one's area."""
        if request.endpoint in {way.endpoint for way in WAYS}:
            return self.endpoint == request.endpoint
        area = f"{request.blueprint}."
        return self == next((w for w in WAYS if w.endpoint.startswith(area)), None)


WAYS = (
    Way("start.first_steps", "First steps", SET_UP),
    Way("setup.sites", "Owners and sites", SET_UP),
    Way("people.people", "People", ADMINISTER),
    Way("gear.things", "Apparatus", SET_UP),
    Way("instruments.register", "Instruments", SET_UP),
    Way("start.installation", "Installation", ADMINISTER),
)


def setup_ways() -> list[Way]:
    """Return the pages of the set-up that are for the person of this request."""
    return [way for way in WAYS if current_user.has_role(*way.roles)]


def init_setup_ways(app: Flask) -> None:
    """Give the ways to every page."""
    app.jinja_env.globals["setup_ways"] = setup_ways
