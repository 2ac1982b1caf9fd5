"""What a new person must be: a name for certificates, a sign-in name, roles."""

import unicodedata
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
# Marks that show nothing, or turn the direction of what follows: with one in it a name
# reads as another's. Joiners stay, which some scripts are written with (Unicode
# Standard Annex 9, table of the explicit directional characters).
HIDDEN = frozenset(map(chr, (0x200B, *range(0x202A, 0x202F), *range(0x2060, 0x206A))))
# Alphabets whose letters look alike: a name is written in one of them (Unicode
# Technical Standard 39, 5.1, mixed-script detection).
LOOK_ALIKE = frozenset(("LATIN", "CYRILLIC", "GREEK", "ARMENIAN", "CHEROKEE"))


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
    """Return a sign-in name as it is stored: in small letters, written in one way.

    What a keyboard can write in several ways, as letters of full width or an accent
    that follows its letter, is one name (Unicode Standard Annex 15, form NFKC).
    """
    written = sign_in.strip().lower()
    if len(written) > 4 * LONGEST_NAME:
        return written  # nobody's: not worth the time that composing it could take
    return unicodedata.normalize("NFKC", written).lower().strip()


def name_faults(name: str) -> list[Fault]:
    """Return why a certificate could not carry *name*."""
    if len(name) > LONGEST_NAME:
        message = f"Keep it within {LONGEST_NAME} characters: it is in certificates."
        return [Fault(field="name", message=message)]
    if any(_is_hidden(c) for c in name):
        message = "It holds a character that shows nothing: type the name again."
        return [Fault(field="name", message=message)]
    return text_faults("name", name, "the name")


def _is_hidden(character: str) -> bool:
    return character in HIDDEN or unicodedata.category(character) == "Cc"


def _sign_in_faults(sign_in: str) -> list[Fault]:
    """Return why nobody could sign in as *sign_in*."""
    if len(stored_sign_in(sign_in)) > LONGEST_NAME:
        message = f"Keep it within {LONGEST_NAME} characters."
        return [Fault(field="sign_in", message=message)]
    if any(unicodedata.category(c) in ("Cc", "Cf") for c in sign_in.strip()):
        message = "It holds a character that shows nothing: type the name again."
        return [Fault(field="sign_in", message=message)]
    if len(alphabets := _alphabets(sign_in) & LOOK_ALIKE) > 1:
        mixed = " and ".join(sorted(one.capitalize() for one in alphabets))
        message = f"It mixes {mixed} letters, which look alike: use one alphabet."
        return [Fault(field="sign_in", message=message)]
    return text_faults("sign_in", sign_in, "the name to sign in with")


def _alphabets(text: str) -> set[str]:
    """Return the first words of the letters' Unicode names: their alphabets."""
    names = (unicodedata.name(c, "") for c in text if c.isalpha())
    return {name.partition(" ")[0] for name in names}


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
