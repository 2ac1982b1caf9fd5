"""The first steps in words, and the page on which each is done."""

from collections.abc import Iterable
from typing import NamedTuple

from flask import url_for

from models.services.setup.first_steps import Step


class Told(NamedTuple):
    """A step as the page shows it; *address* is '' where this person has no page."""

    done: bool
    title: str
    why: str
    there: str  # how many, or that there is none
    action: str
    address: str


# step -> title, why, nouns, then the page for the first one, the page with those that
# are there, and what the link says
WORDS = {
    "site": (
        "Owner and site",
        "Who owns the gear, where it stands, and its time zone.",
        ("site", "sites"),
        ("setup.new_site", "setup.sites", "Enter an owner and a site"),
    ),
    "lineup": (
        "Lineup",
        "The cells as they stand from left to right, each with its apparatus and "
        "nameplates. Limits follow from the nameplates.",
        ("lineup", "lineups"),
        ("setup.sites", "setup.sites", "Enter a lineup"),
    ),
    "people": (
        "People",
        "Each gets a link of their own and chooses a password that nobody else knows. "
        "A round is approved by a lead who tested nothing in it.",
        ("colleague", "colleagues"),
        ("people.new_person", "people.people", "Invite people"),
    ),
    "instrument": (
        "Instruments",
        "With their accuracy and their calibration. A reading taken with an instrument "
        "out of calibration stands unjudged.",
        ("instrument in calibration today", "instruments in calibration today"),
        ("instruments.register", "instruments.register", "Enter instruments"),
    ),
    "round": (
        "Round",
        "The lead plans it on a lineup; then it can be taken onto a tablet.",
        ("round", "rounds"),
        ("turnover.rounds", "turnover.rounds", "Plan a round"),
    ),
}


# What is not seen may be there all the same, for who sees their own sites alone.
NONE_OF_OWN = {
    "site": "you are assigned to none yet",
    "lineup": "none on your sites yet",
    "round": "none on your sites yet",
}


def told(steps: Iterable[Step], *, sees_all: bool) -> list[Told]:
    """Return the steps in words; *sees_all*: the person sees every site."""
    return [_told(step, sees_all=sees_all) for step in steps]


def _told(step: Step, *, sees_all: bool) -> Told:
    title, why, nouns, (first, rest, action) = WORDS[step.key]
    endpoint = rest if step.number else first
    none = "none yet" if sees_all else NONE_OF_OWN.get(step.key, "none yet")
    return Told(
        done=step.number > 0,
        title=title,
        why=why,
        there=f"{step.number} {nouns[step.number != 1]}" if step.number else none,
        action=action,
        address=url_for(endpoint) if step.for_this_person else "",
    )
