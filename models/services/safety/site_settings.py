"""The settings of a site for safety: whose rules govern, and its figures."""

from collections.abc import Mapping
from datetime import datetime
from typing import Any
from uuid import UUID

from sqlalchemy.orm import Session

from models.criteria.safety import rule_sets
from models.errors import Fault, InputError
from models.record.shapes.safety import SafetySettings
from models.schema import Site
from models.services.keeping.log import append_log, take_turn
from models.services.keeping.texts import text_faults
from models.services.people.access import person_of, require, site_of

# What holds where a site says nothing. 14 h and 30 min are this project's own
# figures (practice/safety-scope.md 6 d); 60 s is common practice.
DEFAULTS: dict[str, Any] = {
    "rule_set": "",
    "rule_set_text": "",
    "shift_hours": 14.0,
    "idle_minutes": 30.0,
    "discharge_least_s": 60.0,
}
OTHER_RULES = "other"  # another country's, named in words
# What a figure may be, lowest and highest, and how it is called.
FIGURES = {
    "shift_hours": (1.0, 24.0, "hours"),
    "idle_minutes": (1.0, 240.0, "minutes"),
    "discharge_least_s": (0.0, 86400.0, "seconds"),
}


def settings_of(site: Site) -> SafetySettings:
    """Return the settings that hold on a site."""
    held = {**DEFAULTS, **site.safety}
    return {
        "rule_set": held["rule_set"],
        "rule_set_text": held["rule_set_text"],
        "shift_hours": held["shift_hours"],
        "idle_minutes": held["idle_minutes"],
        "discharge_least_s": held["discharge_least_s"],
    }


def rules_said(settings: SafetySettings) -> str:
    """Return whose rules govern, in words; '' where the site has not said it."""
    if settings["rule_set"] == OTHER_RULES:
        return settings["rule_set_text"]
    found = rule_sets().get(settings["rule_set"])
    return f"{found.name}: {found.where}" if found else ""


def settings_to_change(
    session: Session, *, person_id: UUID, site_id: UUID
) -> SafetySettings:
    """Return the settings of a site that the person sets up, else NotFoundError."""
    person = person_of(session, person_id)
    require(person, "set up")
    return settings_of(site_of(session, person, site_id))


def change_settings(
    session: Session,
    *,
    person_id: UUID,
    site_id: UUID,
    rule_set: str,
    rule_set_text: str,
    shift_hours: float | None,
    idle_minutes: float | None,
    discharge_least_s: float | None,
    now: datetime,
) -> bool:
    """Change the settings of a site; False where nothing was changed.

    Who may set up the site may change them. *rule_set_text* names the rules where they
    are another country's. A figure is None where what was typed is no number. Raises
    InputError by field.
    """
    take_turn(session)
    person = person_of(session, person_id)
    require(person, "set up")
    site = site_of(session, person, site_id)
    given = {
        "rule_set": rule_set,
        "rule_set_text": rule_set_text.strip() if rule_set == OTHER_RULES else "",
        "shift_hours": shift_hours,
        "idle_minutes": idle_minutes,
        "discharge_least_s": discharge_least_s,
    }
    if faults := _faults(given):
        raise InputError(*faults)
    before = {**DEFAULTS, **site.safety}
    changed = {
        name: {"old": before[name], "new": value}
        for name, value in given.items()
        if before[name] != value
    }
    if not changed:
        return False
    site.safety = given
    session.flush()
    append_log(
        session,
        actor_id=person_id,
        action="change safety of site",
        subject=f"site {site.id}",
        body=changed,
        now=now,
    )
    return True


def _faults(given: Mapping[str, Any]) -> list[Fault]:
    faults = []
    if given["rule_set"] not in rule_sets():
        message = "Choose whose rules govern here."
        faults.append(Fault(field="rule_set", message=message))
    if given["rule_set"] == OTHER_RULES:
        what = "which country's rules they are, and their name"
        faults += text_faults("rule_set_text", given["rule_set_text"], what)
    for name, (least, most, unit) in FIGURES.items():
        if given[name] is None or not least <= given[name] <= most:
            message = f"Give {unit} from {least:g} to {most:g}."
            faults.append(Fault(field=name, message=message))
    return faults
