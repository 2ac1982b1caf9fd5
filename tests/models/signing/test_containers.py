"""No byte of a signature's container is without somebody who vouches for it."""

import re

import pytest
from asn1crypto import cms, pem

from models.signing.containers import container_holds
from tests.signed_package import Made


@pytest.fixture(scope="module")
def contents(made: Made) -> bytes:
    """The container of the last signature, with the zeros after it."""
    found = re.findall(rb"/ByteRange\s*\[\s*\d+ (\d+) (\d+) \d+\s*\]", made.pdf)[-1]
    length, second = (int(edge) for edge in found)
    return bytes.fromhex(made.pdf[length + 1 : second - 1].decode())


def root_of(made: Made) -> bytes:
    der: bytes = pem.unarmor(made.root_pem.encode())[2]
    return der


def holds(contents: bytes, root: bytes) -> bool:
    try:
        return container_holds(contents, root)
    except Exception:  # whatever the parser says of it
        return False


def vouched_for(contents: bytes) -> set[int]:
    """Return the places that the signature itself protects.

    The signer's certificate (by the authority's signature), the signed
    attributes, the signature.
    """
    signed = cms.ContentInfo.load(contents)["content"]
    signer = signed["signer_infos"][0]
    serial = signer["sid"].chosen["serial_number"].native
    parts = [
        choice.chosen.dump()
        for choice in signed["certificates"]
        if choice.chosen.serial_number == serial
    ]
    parts += [signer["signed_attrs"].dump(), signer["signature"].dump()]
    places: set[int] = set()
    for part in parts:
        at = contents.index(part)
        places |= set(range(at, at + len(part)))
    return places


def test_the_container_that_was_made_holds(made: Made, contents: bytes) -> None:
    assert container_holds(contents, root_of(made))


def others(contents: bytes, root: bytes) -> set[int]:
    """Return the places to be looked at: of the root's copy and the zeros, some."""
    copy, end = contents.index(root), len(cms.ContentInfo.load(contents).dump())
    thinned = {
        *range(copy, copy + len(root)),
        *range(end, len(contents)),
    }
    left = set(range(len(contents))) - vouched_for(contents)
    return (left - thinned) | set(sorted(left & thinned)[::13])


@pytest.mark.parametrize("bit", [0x01, 0x20])
def test_every_other_byte_is_looked_at(made: Made, contents: bytes, bit: int) -> None:
    """0x20 turns a letter into its capital, which names do not mind."""
    root = root_of(made)
    places = others(contents, root)
    assert len(places) > 150
    missed = []
    for at in sorted(places):
        changed = bytearray(contents)
        changed[at] ^= bit
        if holds(bytes(changed), root):
            missed.append(at)
    assert missed == []


def test_another_root_or_none_inside(made: Made, contents: bytes) -> None:
    assert not holds(contents, b"")
    assert not holds(contents[:-1] + b"\x01", root_of(made))
    assert not holds(b"", root_of(made))
    assert not holds(bytes(64), root_of(made))
