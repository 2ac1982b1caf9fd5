"""What a new person must be: a name for certificates, a sign-in name, roles."""

from collections.abc import Collection, Iterable

from sqlalchemy import select
from sqlalchemy.orm import Session

from models.errors import Fault, InputError
from models.schema import Organisation, Person
from models.services.keeping.texts import text_faults
from models.services.people.access import ROLES

# role -> the kind of organisation that has it
FIRM_OF_ROLE = {
    "lead": "test_firm",
    "technician": "test_firm",
    "owner": "owner",
    "administrator": "test_firm",
}
# Upper bounds of the common and the organisation name (RFC 5280, appendix A.1).
LONGEST_NAME = 64


def check_new(
    session: Session,
    organisation: Organisation,
    *,
    name: str,
    sign_in: str,
    roles: Collection[str],
) -> None:
    """Raise InputError naming everything that keeps this person from being added."""
    faults = [
        *name_faults(name),
        *role_faults(organisation, roles),
        *_sign_in_faults(sign_in),
    ]
    taken = select(Person.name).where(Person.sign_in == stored_sign_in(sign_in))
    if not faults and (other := session.scalars(taken).first()) is not None:
        message = (
            f"'{stored_sign_in(sign_in)}' is {other}'s already: sign-in names are "
            "never given twice, and capitals make no difference."
        )
        faults.append(Fault(field="sign_in", message=message))
    if faults:
        raise InputError(*faults)


def stored_sign_in(sign_in: str) -> str:
    """Return a sign-in name as it is stored: in small letters."""
    return sign_in.strip().lower()


def name_faults(name: str) -> list[Fault]:
    """Return why a certificate could not carry *name*."""
    if len(name) > LONGEST_NAME:
        message = f"Keep it within {LONGEST_NAME} characters: it is in certificates."
        return [Fault(field="name", message=message)]
    return text_faults("name", name, "the name")


def _sign_in_faults(sign_in: str) -> list[Fault]:
    """Return why nobody could sign in as *sign_in*."""
    if len(stored_sign_in(sign_in)) > LONGEST_NAME:
        message = f"Keep it within {LONGEST_NAME} characters."
        return [Fault(field="sign_in", message=message)]
    return text_faults("sign_in", sign_in, "the name to sign in with")


def role_faults(organisation: Organisation, roles: Collection[str]) -> list[Fault]:
    """Return why these cannot be the roles of somebody of *organisation*."""
    if not roles:
        return [Fault(field="roles", message="Choose at least one role.")]
    messages = []
    for role in roles:
        if role not in FIRM_OF_ROLE:
            messages.append(f"'{role}' is none of {', '.join(FIRM_OF_ROLE)}.")
        elif organisation.kind != FIRM_OF_ROLE[role]:
            kind = organisation.kind.replace("_", " ")
            messages.append(
                f"{organisation.name} is recorded as {kind}: it has no {role}."
            )
    return [Fault(field="roles", message=message) for message in messages]


def listed(roles: Iterable[str]) -> list[str]:
    """Return each role once, in the order in which roles are listed."""
    return sorted(set(roles), key=ROLES.index)
