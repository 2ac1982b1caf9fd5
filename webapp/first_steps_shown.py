"""What to do first, on a page that is empty since nothing is set up yet."""

from flask_login import current_user

from models.services.setup.first_steps import first_steps
from webapp.clock import now
from webapp.db import db
from webapp.words.step_words import Told, told


def steps_before_a_round() -> list[Told]:
    """Return the steps where one of them is not done; none where a round can begin."""
    steps = steps_to_first_card()
    return steps if any(not step.done for step in steps[:-1]) else []


def steps_to_first_card() -> list[Told]:
    """Return the steps in words, for the person of this request."""
    steps = first_steps(db(), person_id=current_user.id, today=now().date())
    return told(steps, sees_all=current_user.has_role("administrator"))
