"""What a PDF signature's container may hold beside what its signature covers.

A container carries parts that no signature authenticates: algorithm names, a copy
of the authority's certificate, the zeros that fill its place. Nobody could tell a
lie there, but a file in which they were changed is not the file that was signed.
"""

from typing import Any

from asn1crypto import cms

ALGORITHMS = {"digest": "sha256", "signature": "sha256_ecdsa"}


def container_holds(contents: bytes, root_der: bytes) -> bool:
    """Return whether *contents* is a container as `seal_pdf` makes them.

    One signer, the signer's certificate and the authority's, nothing that is not
    signed (a time stamp would be such: none is made), strict DER, then zeros.
    Raises whatever the parser does when it is none at all.
    """
    signed = cms.ContentInfo.load(contents)["content"]
    (signer,) = signed["signer_infos"]
    whole = _put_together(signed, signer)
    return (
        contents.startswith(whole)
        and not any(contents[len(whole) :])
        and _as_named(signed, signer)
        and _known_certificates(signed, signer, root_der)
    )


def _put_together(signed: Any, signer: Any) -> bytes:
    """Return the container made anew from its parts: no byte beside them is left."""
    parts = ("digest_algorithm", "signed_attrs", "signature_algorithm", "signature")
    again = cms.SignerInfo(
        {"version": "v1", "sid": signer["sid"], **{p: signer[p] for p in parts}}
    )
    made = cms.SignedData(
        {
            "version": "v1",
            "digest_algorithms": list(signed["digest_algorithms"]),
            "encap_content_info": {"content_type": "data"},
            "certificates": list(signed["certificates"]),
            "signer_infos": [again],
        }
    )
    der: bytes = cms.ContentInfo(
        {"content_type": "signed_data", "content": made}
    ).dump()
    return der


def _as_named(signed: Any, signer: Any) -> bool:
    digest = {"algorithm": ALGORITHMS["digest"], "parameters": None}
    return (
        (signed["version"].native, signer["version"].native) == ("v1", "v1")
        and signed["digest_algorithms"].native == [digest]
        and signer["digest_algorithm"].native == digest
        and signer["signature_algorithm"]["algorithm"].native == ALGORITHMS["signature"]
        and signed["encap_content_info"].native
        == {"content_type": "data", "content": None}
        and signed["crls"].native is None
        and signer["unsigned_attrs"].native is None
    )


def _known_certificates(signed: Any, signer: Any, root_der: bytes) -> bool:
    """The authority's certificate as it is known, and the one that signed."""
    named = signer["sid"].chosen
    others = []
    for choice in signed["certificates"]:
        certificate = choice.chosen
        if certificate.dump() == root_der:
            continue
        same = (certificate.issuer.dump(), certificate.serial_number) == (
            named["issuer"].dump(),  # byte for byte: names compare whatever their case
            named["serial_number"].native,
        )
        others.append(same)
    return others == [True]
