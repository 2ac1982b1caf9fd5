"""Forms of the set-up's three steps: they check shape, services decide."""

from flask_wtf import FlaskForm
from wtforms import BooleanField, PasswordField, StringField, TextAreaField
from wtforms.validators import EqualTo, InputRequired


class OrganisationForm(FlaskForm):
    """The code that was printed, and the test organisation."""

    code = StringField("Code")
    name = StringField(
        "Name of the test organisation",
        validators=[InputRequired("Write the name as it stands on reports.")],
    )
    address = TextAreaField("Its address")


class AdministratorForm(FlaskForm):
    """The first person."""

    name = StringField(
        "Your name", validators=[InputRequired("Write your name as you sign.")]
    )
    sign_in = StringField(
        "Sign-in name", validators=[InputRequired("Choose a name to sign in with.")]
    )
    password = PasswordField(
        "Password", validators=[InputRequired("Choose a password.")]
    )
    again = PasswordField(
        "Password once more",
        validators=[EqualTo("password", message="This differs from the one above.")],
    )
    lead = BooleanField("I am also a commissioning lead")
    technician = BooleanField("I am also a test technician")

    @property
    def also(self) -> list[str]:
        """The roles beside the administrator's."""
        return [role for role in ("lead", "technician") if self[role].data]


class AuthorityForm(FlaskForm):
    """That the fingerprint was written down."""

    written = BooleanField(
        "I have written it down",
        validators=[InputRequired("Write it down first, then tick this.")],
    )
