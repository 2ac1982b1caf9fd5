"""A package that was tampered with is found, whatever was done to it."""

import hashlib
import io
import json
import random
import re
import subprocess
from base64 import b64decode
from collections.abc import Callable
from copy import deepcopy
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

import pikepdf
import pytest

from models.record.safety_report.attached import attached_safety
from models.signing import authority, chain, keys, pdf_seals, seals
from models.signing.verification import Verification, verify_package
from tests.laws import THOROUGH
from tests.scenario import IR, LEAD, OTHER_LEAD, PASSWORD, SECOND, TECHNICIAN
from tests.signed_package import Made
from tests.webapp.pdf import safety_sample
from webapp.pdf import package_attachments, render_package, seal_boxes, stamp

NOW = datetime(2026, 3, 3, 9, 0, tzinfo=UTC)
FOREIGN = authority.create_authority("Witnessmark local authority", NOW)


def add_seal(
    made: Made, pdf: bytes, field: str, who: tuple[Any, str], **more: Any
) -> bytes:
    """Return the file with one signature more, by whoever's key that is."""
    box = seal_boxes(made.document).get(field) or seal_boxes(made.document)["approved"]
    key, certificate = who
    given = {
        "private_key": key,
        "certificate_pem": certificate,
        "root_pem": made.root_pem,
        "field": field,
        "stamp_pdf": stamp(["x"], box.width, box.height),
        "box": box.corners,
        "page": box.page,
        "reason": "test",
        "name": "x",
        "now": NOW,
    }
    return pdf_seals.seal_pdf(pdf, **given | more)


def package_of(
    made: Made,
    document: dict[str, Any],
    approver: str = LEAD.name,
    performers: tuple[str, ...] = (TECHNICIAN.name,),
    root_pem: str = "",
) -> bytes:
    """Return a package of another document, signed in order as if it were the one."""
    files = package_attachments(document, root_pem or made.root_pem)
    pdf = render_package(document, files)
    for number, name in enumerate(performers, start=1):
        pdf = add_seal(made, pdf, f"performed_{number}", made.keys[name])
    return add_seal(made, pdf, "approved", made.keys[approver])


def assert_found(found: Verification, *words: str) -> None:
    assert not found.ok
    text = " | ".join(found.faults)
    assert all(word in text for word in words), text
    assert "Traceback" not in text and len(text) < 5000


def test_a_good_package_holds(made: Made) -> None:
    found = verify_package(made.pdf, made.root_pem)
    assert found.faults == [] and found.ok
    assert [(s.field, s.person, s.holds) for s in found.seals] == [
        ("performed_1", TECHNICIAN.name, True),
        ("approved", LEAD.name, True),
    ]
    assert found.card_seals == len(made.document["cards"])
    assert found.record == made.document
    assert not found.own_root
    for seal in found.seals:
        assert seal.key == seals.fingerprint(made.keys[seal.person][1])
        assert seal.why == "" and seal.reason
    alone = verify_package(made.pdf)
    assert alone.ok and alone.own_root
    assert alone.root == seals.fingerprint(made.root_pem) == found.root


def test_a_root_with_other_line_ends_is_the_same_root(made: Made) -> None:
    assert verify_package(made.pdf, made.root_pem.replace("\n", "\r\n")).ok


# Bytes


def test_one_byte_anywhere_is_found(made: Made) -> None:
    """Bits turned over all along the file: in pages, record, signatures, tables."""
    rng = random.Random(8)
    places = {0, len(made.pdf) - 1, len(made.performed), len(made.performed) - 1}
    places |= {rng.randrange(len(made.pdf)) for _ in range(40 if THOROUGH else 10)}
    for word in (b"/ByteRange", b"/Contents", b"/Reason", b"/EmbeddedFile", b"xref"):
        places |= {m.start() + 3 for m in re.finditer(re.escape(word), made.pdf)}
    missed = []
    for at in sorted(places):
        changed = bytearray(made.pdf)
        changed[at] ^= 0x01
        found = verify_package(bytes(changed), made.root_pem)
        if found.ok:
            missed.append(at)
    assert missed == []


def container(pdf: bytes, number: int) -> tuple[int, int]:
    """Return where the hex digits of a signature begin and end, by the file's words."""
    ranges = re.findall(rb"/ByteRange\s*\[\s*(\d+) (\d+) (\d+) (\d+)\s*\]", pdf)
    assert len(ranges) == 2
    _, length, second, _ = (int(edge) for edge in ranges[number])
    return length + 1, second - 1


def test_one_digit_of_a_signatures_container_is_found(made: Made) -> None:
    """Also where no signature reaches: names of algorithms, a copy of the root, zeros.

    Only of the last one: the first lies within what the second signs.
    """
    first, after = container(made.pdf, 1)
    missed = []
    for at in range(first, after, 97 if THOROUGH else 389):
        changed = bytearray(made.pdf)
        changed[at] = ord("0") if changed[at] != ord("0") else ord("1")
        if verify_package(bytes(changed), made.root_pem).ok:
            missed.append((at - first) // 2)
    assert missed == []


NOT_PDF: dict[str, bytes] = {
    "nothing": b"",
    "one byte": b"%",
    "a header alone": b"%PDF-1.7\n",
    "text": b"not a pdf at all",
    "zeros": bytes(4096),
    "a picture's first bytes": b"\x89PNG\r\n\x1a\n" + bytes(99),
    "a header and rubbish": b"%PDF-1.7\n" + bytes(range(256)) * 9,
}


@pytest.mark.parametrize("data", NOT_PDF.values(), ids=NOT_PDF)
def test_what_is_no_pdf_is_said_so(data: bytes, made: Made) -> None:
    for root in (None, made.root_pem):
        found = verify_package(data, root)
        assert_found(found, "cannot be read as a package")
        assert found.seals == []


def test_a_pdf_without_signature_or_record(made: Made) -> None:
    blank = io.BytesIO()
    with pikepdf.new() as pdf:
        pdf.add_blank_page()
        pdf.save(blank)
    assert_found(verify_package(blank.getvalue()), "No authority's certificate")
    assert_found(
        verify_package(blank.getvalue(), made.root_pem),
        "record.json) is not inside",
        "carries no signature",
    )


def test_cut_short_anywhere_is_found(made: Made) -> None:
    rng = random.Random(9)
    lengths = {rng.randrange(1, len(made.pdf)) for _ in range(25)}
    lengths |= {len(made.pdf) - 1, len(made.pdf) - 2, len(made.pdf) - 7}
    for length in sorted(lengths):
        assert not verify_package(made.pdf[:length], made.root_pem).ok, length


def test_cut_back_to_the_technicians_revision_is_found(made: Made) -> None:
    """Each signature in it is good; the approval that the record names is missing."""
    found = verify_package(made.performed, made.root_pem)
    assert [s.holds for s in found.seals] == [True]
    assert_found(found, "The signature approved is missing")


def test_something_after_the_end_is_found(made: Made) -> None:
    for tail in (b"\n", b" ", b"%comment\n", b"%%EOF\n", made.pdf):
        assert not verify_package(made.pdf + tail, made.root_pem).ok, tail[:20]


# Increments and rewritten files


def increment(act: Callable[[Any], None]) -> Callable[[Made], bytes]:
    """Return an act that adds an increment to the signed file."""

    def change(made: Made) -> bytes:
        from pyhanko.pdf_utils.incremental_writer import IncrementalPdfFileWriter

        writer = IncrementalPdfFileWriter(io.BytesIO(made.pdf))
        act(writer)
        out = io.BytesIO()
        writer.write(out)
        return out.getvalue()

    return change


def draw_over_the_first_page(writer: Any) -> None:
    from pyhanko.pdf_utils import generic

    page = writer.find_page_for_modification(0)[0].get_object()
    drawn = generic.StreamObject(stream_data=b"1 0 0 rg 0 0 500 800 re f")
    contents = page["/Contents"]
    old = (
        contents
        if isinstance(contents, generic.ArrayObject)
        else [page.raw_get("/Contents")]
    )
    page["/Contents"] = generic.ArrayObject([*old, writer.add_object(drawn)])
    writer.update_container(page)


def write_in_the_catalog(writer: Any) -> None:
    from pyhanko.pdf_utils import generic

    writer.root["/Note"] = generic.pdf_string("approved twice")
    writer.update_root()


def rewrite(act: Callable[[pikepdf.Pdf], None]) -> Callable[[Made], bytes]:
    """Return an act that writes the whole file anew."""

    def change(made: Made) -> bytes:
        out = io.BytesIO()
        with pikepdf.open(io.BytesIO(made.pdf)) as pdf:
            act(pdf)
            pdf.save(out)
        return out.getvalue()

    return change


def swap_record(pdf: pikepdf.Pdf) -> None:
    record = json.loads(pdf.attachments["record.json"].get_file().read_bytes())
    record["conformity"] = {"word": "not_complete"}
    del pdf.attachments["record.json"]
    pdf.attachments["record.json"] = pikepdf.AttachedFileSpec(
        pdf, chain.canonical(record), filename="record.json"
    )


def drop_record(pdf: pikepdf.Pdf) -> None:
    del pdf.attachments["record.json"]


def swap_root(pdf: pikepdf.Pdf) -> None:
    name = "witnessmark-root.pem"
    del pdf.attachments[name]
    pdf.attachments[name] = pikepdf.AttachedFileSpec(
        pdf, FOREIGN.certificate_pem.encode(), filename=name
    )


def drop_a_page(pdf: pikepdf.Pdf) -> None:
    del pdf.pages[0]


def keep(pdf: pikepdf.Pdf) -> None:
    pass


FILES: dict[str, tuple[Callable[[Made], bytes], str]] = {
    "a box drawn over a page": (increment(draw_over_the_first_page), "does not"),
    "a word in the catalog": (increment(write_in_the_catalog), "whole file"),
    "written anew": (rewrite(keep), "does not hold"),
    "another record inside": (rewrite(swap_record), "does not hold"),
    "no record inside": (rewrite(drop_record), "is not inside the file"),
    "another root inside": (rewrite(swap_root), "not that of the given authority"),
    "a page less": (rewrite(drop_a_page), "does not hold"),
    "a signature more": (
        lambda made: add_seal(made, made.pdf, "extra", made.keys[SECOND.name]),
        "extra is not one that the record names",
    ),
    "approved with a foreign key": (
        lambda made: add_seal(made, made.performed, "approved", foreign(LEAD.name)),
        "not issued by this authority",
    ),
    "approved by who performed": (
        lambda made: add_seal(
            made, made.performed, "approved", made.keys[TECHNICIAN.name]
        ),
        "approved what they performed",
    ),
}


def foreign(name: str) -> tuple[Any, str]:
    """Return a key of the same name that another authority issued."""
    issued = keys.issue_key(
        FOREIGN,
        person_id="p",
        name=name,
        organisation="Fathom Line Testing",
        password=PASSWORD,
        now=NOW - timedelta(days=9),
    )
    return keys.open_key(issued.wrapped, PASSWORD, "p"), issued.certificate_pem


@pytest.mark.parametrize(("change", "words"), FILES.values(), ids=FILES)
def test_a_changed_file_is_found(
    made: Made, change: Callable[[Made], bytes], words: str
) -> None:
    changed = change(made)
    assert changed != made.pdf
    assert_found(verify_package(changed, made.root_pem), words)


def test_another_authoritys_root_is_found(made: Made) -> None:
    found = verify_package(made.pdf, FOREIGN.certificate_pem)
    assert_found(
        found, "not that of the given authority", "not issued by this authority"
    )
    assert not any(s.holds for s in found.seals)


@pytest.mark.parametrize("root", ["", "no certificate", "-----BEGIN CERTIFICATE-----"])
def test_a_root_that_is_none_is_said_so(made: Made, root: str) -> None:
    found = verify_package(made.pdf, root)
    assert_found(found, "certificate cannot be read as PEM")


# Records that say something else, signed with real keys


def doctored(made: Made, act: Callable[[dict[str, Any]], Any]) -> bytes:
    document = deepcopy(made.document)
    act(document)
    return package_of(made, document)


def first_reading(document: dict[str, Any]) -> dict[str, Any]:
    reading: dict[str, Any] = document["cards"][0]["readings"][0]
    return reading


def by_another(document: dict[str, Any]) -> None:
    document["cards"][0]["signatures"][0]["by"] = SECOND.name


DOCTORED: dict[str, tuple[Callable[[dict[str, Any]], Any], str]] = {
    "a value": (
        lambda d: first_reading(d).update(text="99.0"),
        "sheet 1: the readings are not those that were signed",
    ),
    "a verdict": (
        lambda d: first_reading(d)["judgement"].update(verdict="outside"),
        "sheet 1: the readings are not those that were signed",
    ),
    "a limit": (
        lambda d: first_reading(d)["judgement"].update(limit_low="1.0"),
        "sheet 1: the readings are not those that were signed",
    ),
    "a reading taken out": (
        lambda d: d["cards"][0]["readings"].pop(),
        "sheet 1: the readings are not those that were signed",
    ),
    "a reading put in": (
        lambda d: d["cards"][0]["readings"].append(
            first_reading(d) | {"id": "00000000-0000-0000-0000-000000000001"}
        ),
        "sheet 1: the readings are not those that were signed",
    ),
    "a card under another's signature": (
        lambda d: d["cards"][0].update(id="00000000-0000-0000-0000-000000000001"),
        "sheet 1: the readings are not those that were signed",
    ),
    "who signed a card": (by_another, f"it was not {SECOND.name} who signed"),
    "the statement of a card": (
        lambda d: d["cards"][0]["signatures"][0].update(statement="{}"),
        "made over another statement",
    ),
    "the seal of a card": (
        lambda d: d["cards"][0]["signatures"][0].update(seal="AAAA"),
        "cannot be read",
    ),
    "a performer not announced": (
        lambda d: d["seals"].pop(0),
        "performed_1 is not one that the record names",
    ),
    "another performer announced": (
        lambda d: d["seals"][0].update(person=SECOND.name),
        f"where the record names {SECOND.name}",
    ),
    "one more performer announced": (
        lambda d: d["seals"].insert(
            1, {**d["seals"][0], "field": "performed_2", "person": SECOND.name}
        ),
        "performed_2 is missing",
    ),
    "the approval not announced": (
        lambda d: d["seals"].pop(),
        "approved is not one that the record names",
    ),
}


@pytest.mark.parametrize(("act", "words"), DOCTORED.values(), ids=DOCTORED)
def test_a_record_that_says_something_else_is_found(
    made: Made, act: Callable[[dict[str, Any]], Any], words: str
) -> None:
    """Even where insiders sign it: a card's seal is made with the performer's key."""
    assert_found(verify_package(doctored(made, act), made.root_pem), words)


def test_the_same_record_signed_again_holds(made: Made) -> None:
    """The doctored ones fail for what was doctored, not for how they were made."""
    again = package_of(made, made.document)
    assert verify_package(again, made.root_pem).faults == []
    other = package_of(made, made.document, approver=OTHER_LEAD.name)
    assert verify_package(other, made.root_pem).ok


def test_a_verdict_may_be_said_in_other_words(made: Made) -> None:
    """Reason and working are worked out when they are shown, by the program of then."""
    document = deepcopy(made.document)
    first_reading(document)["judgement"].update(reason="So.", working=["Because."])
    assert verify_package(package_of(made, document), made.root_pem).faults == []


def by_scopes(made: Made) -> dict[str, Any]:
    """Return the record as of a round that went by scopes."""
    document = deepcopy(made.document)
    document["safety"] = safety_sample.report((1, 1, 1, 0))
    document["safety"]["statements"] = [deepcopy(safety_sample.STATEMENT)]
    document["safety"]["lines"] = 1
    data = chain.canonical(attached_safety(document))
    document["safety"]["digest"] = hashlib.sha256(data).hexdigest()
    return document


def test_the_lines_of_the_safety_page_are_held_to_its_digest(made: Made) -> None:
    document = by_scopes(made)
    assert verify_package(package_of(made, document), made.root_pem).faults == []
    document["safety"]["statements"][0]["by"] = "Somebody Else"
    found = verify_package(package_of(made, document), made.root_pem)
    assert_found(found, "safety.json is not the file that the safety page names")
    counted = by_scopes(made)
    counted["safety"]["lines"] = 2
    found = verify_package(package_of(made, counted), made.root_pem)
    assert_found(found, "not as many lines as the safety page says")


def test_a_safety_page_without_its_file_is_found(made: Made) -> None:
    document = by_scopes(made)
    files = package_attachments(document, made.root_pem)
    kept = [one for one in files if one.name != "safety.json"]
    pdf = render_package(document, kept)
    found = verify_package(pdf, made.root_pem)
    assert_found(found, "(safety.json) are not inside")


def test_a_whole_forgery_holds_only_against_its_own_root(made: Made) -> None:
    """Another authority makes a package of its own: --root is what finds it."""
    files = package_attachments(made.document, FOREIGN.certificate_pem)
    pdf = render_package(made.document, files)
    for field, name in (("performed_1", TECHNICIAN.name), ("approved", LEAD.name)):
        pdf = add_seal(
            made, pdf, field, foreign(name), root_pem=FOREIGN.certificate_pem
        )
    alone = verify_package(pdf)
    assert alone.root == seals.fingerprint(FOREIGN.certificate_pem) and alone.own_root
    assert [s.holds for s in alone.seals] == [True, True]
    assert_found(alone, "signature does not hold")  # the cards' seals are not theirs
    assert_found(verify_package(pdf, made.root_pem), "not issued by this authority")


# Readers that are not ours


def parts(pdf: bytes, number: int) -> tuple[bytes, bytes]:
    """Return (the signature's DER, what it was taken over) by the file's own words."""
    first, after = container(pdf, number)
    der = bytes.fromhex(pdf[first:after].decode())
    length = 4 + int.from_bytes(der[2:4])  # 30 82 and two bytes of length
    end = re.findall(rb"/ByteRange\s*\[\s*\d+ \d+ \d+ (\d+)\s*\]", pdf)[number]
    return der[:length], pdf[: first - 1] + pdf[after + 1 : after + 1 + int(end)]


def openssl(folder: Path, pdf: bytes, number: int, root_pem: str) -> int:
    der, content = parts(pdf, number)
    (folder / "der").write_bytes(der)
    (folder / "content").write_bytes(content)
    (folder / "root.pem").write_text(root_pem)
    done = subprocess.run(
        [
            *("openssl", "cms", "-verify", "-binary", "-inform", "DER"),
            *("-in", str(folder / "der"), "-content", str(folder / "content")),
            *("-CAfile", str(folder / "root.pem"), "-purpose", "any"),
            *("-attime", str(int(NOW.timestamp())), "-out", str(folder / "out")),
        ],
        check=False,
        capture_output=True,
    )
    return done.returncode


def test_openssl_checks_each_signature(made: Made, tmp_path: Path) -> None:
    for number in range(2):
        assert openssl(tmp_path, made.pdf, number, made.root_pem) == 0
        assert openssl(tmp_path, made.pdf, number, FOREIGN.certificate_pem) != 0
    changed = bytearray(made.pdf)
    changed[4000] ^= 1
    for number in range(2):
        assert openssl(tmp_path, bytes(changed), number, made.root_pem) != 0


def pdfsig(folder: Path, pdf: bytes, root_pem: str) -> str:
    """Return what poppler's reader says, trusting the root."""
    (folder / "root.pem").write_text(root_pem)
    (folder / "package.pdf").write_bytes(pdf)
    store = f"sql:{folder / 'nss'}"
    if not (folder / "nss").exists():
        (folder / "nss").mkdir()
        for args in (
            ["-N", "--empty-password"],
            ["-A", "-n", "root", "-t", "CT,C,C", "-i", str(folder / "root.pem")],
        ):
            subprocess.run(["certutil", "-d", store, *args], check=True)
    return subprocess.run(
        ["pdfsig", "-nssdir", store, str(folder / "package.pdf")],
        check=False,
        capture_output=True,
        text=True,
    ).stdout


@pytest.mark.needs("poppler", "nss")
def test_pdfsig_says_the_same(made: Made, tmp_path: Path) -> None:
    said = pdfsig(tmp_path, made.pdf, made.root_pem)
    assert said.count("Signature is Valid") == 2
    assert said.count("Certificate is Trusted") == 2
    assert TECHNICIAN.name in said and LEAD.name in said
    changed = bytearray(made.pdf)
    changed[4000] ^= 1
    said = pdfsig(tmp_path, bytes(changed), made.root_pem)
    assert said.count("Signature is Valid") == 0


def test_a_seal_of_the_record_is_openssls_too(made: Made, tmp_path: Path) -> None:
    """A card's seal, taken out of record.json, stands by itself."""
    card = next(c for c in made.document["cards"] if c["procedure"] == IR)
    sign = card["signatures"][0]
    (tmp_path / "seal.der").write_bytes(b64decode(sign["seal"]))
    (tmp_path / "statement").write_bytes(sign["statement"].encode())
    (tmp_path / "root.pem").write_text(made.root_pem)
    done = subprocess.run(
        [
            *("openssl", "cms", "-verify", "-binary", "-inform", "DER"),
            *("-in", str(tmp_path / "seal.der")),
            *("-content", str(tmp_path / "statement")),
            *("-CAfile", str(tmp_path / "root.pem"), "-purpose", "any"),
            *("-attime", str(int(NOW.timestamp())), "-out", str(tmp_path / "out")),
        ],
        check=False,
        capture_output=True,
    )
    assert done.returncode == 0, done.stderr
