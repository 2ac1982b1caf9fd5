"""Account: sign in, sign out, change a password."""

from webapp.account.routes import bp

__all__ = ["bp"]
