"""Who is signed in: the link between the session cookie and a person."""

from dataclasses import dataclass
from uuid import UUID

from flask import Flask, redirect, request, session, url_for
from flask_login import LoginManager, UserMixin, login_user
from flask_wtf.csrf import CSRFProtect
from werkzeug.wrappers import Response

from models.errors import NotFoundError
from models.services.people.access import role_words
from models.services.people.people import PersonView, person_view
from webapp.clock import now
from webapp.db import open_session

SESSION_HOURS = 12  # a working day; a typed reading survives it on the tablet
BEGAN = "began"  # seconds since 1970: the cookie's own time moves on with each change

csrf = CSRFProtect()


@dataclass(frozen=True)
class SignedIn(UserMixin):
    """The person of this request."""

    view: PersonView

    @property
    def id(self) -> UUID:
        """The person's id."""
        return self.view.id

    @property
    def name(self) -> str:
        """The person's printed name."""
        return self.view.name

    @property
    def roles(self) -> frozenset[str]:
        """Of lead, technician, owner, administrator."""
        return self.view.roles

    @property
    def role_words(self) -> str:
        """The roles as text: lead, technician."""
        return role_words(self.view.roles)

    def has_role(self, *roles: str) -> bool:
        """Return whether the person holds one of these roles."""
        return not self.view.roles.isdisjoint(roles)

    @property
    def organisation(self) -> str:
        """The name of the person's organisation."""
        return self.view.organisation

    def get_id(self) -> str:
        """Return what the cookie carries: a raised epoch ends old sessions."""
        return f"{self.view.id}:{self.view.session_epoch}"


def init_sign_in(app: Flask) -> None:
    """Prepare sign-in, sessions and protection against forged requests."""
    manager = LoginManager(app)
    manager.session_protection = "basic"
    csrf.init_app(app)

    @manager.user_loader
    def load(token: str) -> SignedIn | None:
        lasted_s = now().timestamp() - session.get(BEGAN, 0)
        return load_person(token) if lasted_s < SESSION_HOURS * 3600 else None

    @manager.unauthorized_handler
    def unauthorized() -> Response:
        if request.is_json or request.accept_mimetypes.best == "application/json":
            return Response(
                '{"faults": [{"field": "", "message": "Sign in again."}]}',
                status=401,
                mimetype="application/json",
            )
        return redirect(url_for("account.sign_in", next=request.full_path))


def begin_session(view: PersonView) -> None:
    """Start a session of this person; what an earlier one held is dropped."""
    session.clear()
    session.permanent = True
    session[BEGAN] = now().timestamp()
    login_user(SignedIn(view))


def load_person(token: str) -> SignedIn | None:
    """Return the person that a cookie names, if they may still be signed in."""
    raw_id, _, epoch = token.partition(":")
    rows = open_session(reading=True)
    try:
        view = person_view(rows, person_id=UUID(raw_id))
    except (NotFoundError, ValueError):
        return None
    finally:
        rows.close()
    return SignedIn(view) if str(view.session_epoch) == epoch else None
