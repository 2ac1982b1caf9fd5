"""Forms of the account pages: they check shape, services decide."""

from flask_wtf import FlaskForm
from wtforms import PasswordField, StringField
from wtforms.validators import EqualTo, InputRequired


class SignInForm(FlaskForm):
    """A name and a password."""

    sign_in = StringField(
        "Sign-in name", validators=[InputRequired("Write your sign-in name.")]
    )
    password = PasswordField(
        "Password", validators=[InputRequired("Write your password.")]
    )


class PasswordForm(FlaskForm):
    """The present password and a new one, twice."""

    old = PasswordField(
        "Present password",
        validators=[InputRequired("Write the password that you have now.")],
    )
    new = PasswordField(
        "New password", validators=[InputRequired("Write the new password.")]
    )
    again = PasswordField(
        "New password once more",
        validators=[
            EqualTo("new", message="This differs from the new password above.")
        ],
    )
