"""The form of a site's safety: it checks shape, the service decides."""

from collections.abc import Iterable
from typing import Any

from flask_wtf import FlaskForm
from wtforms import RadioField, StringField
from wtforms.fields.choices import SelectChoice


class SafetyForm(FlaskForm):
    """Whose rules govern on the site, and the figures that its scopes lapse by."""

    rule_set = RadioField("Whose rules govern here", validate_choice=False)
    rule_set_text = StringField("Another country's rules: whose, and their name")
    shift_hours = StringField("Longest shift, in hours")
    idle_minutes = StringField("Idle time before the call is asked again, in minutes")
    discharge_least_s = StringField("Least time on ground after dc, in seconds")

    def offer(self, rule_sets: Iterable[tuple[str, str]]) -> None:
        """Set the rule sets that may be chosen."""
        self.rule_set.choices = [SelectChoice(*one) for one in rule_sets]

    def begin_with(self, settings: Any) -> None:
        """Start from what holds."""
        for name, field in self._fields.items():
            if name in settings:
                value = settings[name]
                field.data = value if isinstance(value, str) else f"{value:g}"

    def figure(self, name: str) -> float | None:
        """Return the number that was typed; None where it is none."""
        typed = str(self._fields[name].data or "").strip().replace(",", ".")
        try:
            value = float(typed)
        except ValueError:
            return None
        return value if abs(value) < float("inf") else None
