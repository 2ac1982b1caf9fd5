"""Deficiencies, dispositions, instruments, files and people: a table each."""

import re
from collections.abc import Mapping
from typing import Any

from models.judging.quantities import said_unit
from webapp.pdf import times
from webapp.pdf.plan import plan
from webapp.pdf.sheets import Sheets
from webapp.pdf.tables import Cell, Column, Said, table
from webapp.pdf.together import read_together

SEVERITIES = {"stops_turnover": "stops turnover", "may_follow": "may follow turnover"}

Doc = Mapping[str, Any]


def lists(sheets: Sheets, document: Doc) -> None:
    """Put down the findings on one sheet, instruments and people on another."""
    sheets.begin("Findings", mark=False)
    _deficiencies(sheets, document)
    _dispositions(sheets, document)
    read_together(sheets, document)
    plan(sheets, document)
    sheets.begin("Instruments, people", mark=False)
    _instruments(sheets, document)
    _files(sheets, document)
    _people(sheets, document)
    _waived(sheets, document)
    _not_waited_for(sheets, document)


def _section(
    sheets: Sheets, title: str, columns: list[Column], rows: list[list[Cell]], none: str
) -> None:
    sheets.gap(14)
    sheets.need(90)
    sheets.mark(title, 0)
    sheets.text(title, "title")
    sheets.y += 5
    if rows:
        table(sheets, columns, rows)
    else:
        sheets.text(none, "body")


def _deficiencies(sheets: Sheets, document: Doc) -> None:
    zone = document["zone"]
    rows: list[list[Cell]] = [
        [
            d["number"],
            f"{d['text']}\n{d['where']}",
            f"{SEVERITIES[d['severity']]}\nheld by {d['holder']}",
            f"{d['raised_by']}\n{times.at(d['raised_at'], zone)}",
            _closing(d, zone),
        ]
        for d in document["deficiencies"]
    ]
    columns = [
        Column(head="No.", share=0.8, style="mono"),
        Column(head="What is to be put right, and where", share=3.6, style="small-ink"),
        Column(head="Severity, holder", share=1.6, style="small-ink"),
        Column(head="Raised", share=1.6, style="small-ink"),
        Column(head="Closing", share=2.2, style="small-ink"),
    ]
    _section(sheets, "Deficiencies", columns, rows, "None was raised.")


def _closing(deficiency: Doc, zone: str) -> str:
    if deficiency["state"] != "closed":
        return "OPEN"
    when = times.at(deficiency["closed_at"], zone)
    return f"Closed by {deficiency['closed_by']}, {when}: {deficiency['closing_text']}"


def _dispositions(sheets: Sheets, document: Doc) -> None:
    rows: list[list[Cell]] = [
        [
            Said(d["verdict"]),
            d["where"],
            f"{decision_words(d).capitalize()}. {d['reason']}",
            _decided_by(d, document["zone"]),
        ]
        for d in document["dispositions"]
    ]
    columns = [
        Column(head="Verdict", share=1.1, style="small-ink"),
        Column(head="Reading", share=2.6, style="small-ink"),
        Column(head="Decision and reason", share=3.6, style="small-ink"),
        Column(head="By", share=1.6, style="small-ink"),
    ]
    _section(sheets, "Dispositions", columns, rows, "None was needed or made.")


def _decided_by(disposition: Doc, zone: str) -> str:
    said = f"{disposition['by']}\n{times.at(disposition['at'], zone)}"
    answer = disposition.get("answer")
    if not answer:
        return said
    return f"{said}\nagreed by {answer['by']}\n{times.at(answer['at'], zone)}"


def _instruments(sheets: Sheets, document: Doc) -> None:
    rows: list[list[Cell]] = [
        [
            i["tag"],
            f"{i['name']}\nserial {i['serial']}",
            _said_units(i["accuracy"]).replace("; ", "\n"),
            times.day(i["calibrated_on"]),
            times.day(i["due_on"]),
            f"{i['certificate_no']}\n{i['laboratory']}"
            if i["certificate_no"]
            else "no calibration on the day of use",
        ]
        for i in document["instruments"]
    ]
    columns = [
        Column(head="Tag", share=0.9, style="mono"),
        Column(head="Instrument", share=2.2, style="small-ink"),
        Column(head="Accuracy", share=2.3, style="small-ink"),
        Column(head="Calibrated", share=1.1, style="small-ink"),
        Column(head="Due", share=1.1, style="small-ink"),
        Column(head="Certificate, laboratory", share=1.9, style="small-ink"),
    ]
    _section(sheets, "Instruments", columns, rows, "No reading was taken.")


def _files(sheets: Sheets, document: Doc) -> None:
    """List what was attached; whoever has a file can hold it to its SHA-256."""
    if not document.get("files"):
        return
    rows: list[list[Cell]] = [
        [
            _named(file),
            file["where"],
            f"{file['by']}\n{times.at(file['at'], document['zone'])}",
            f"{digest_lines(file['sha256'])}\n{int(file['size']):,} bytes".replace(
                ",", " "
            ),
        ]
        for file in document["files"]
    ]
    columns = [
        Column(head="File", share=2.6, style="small-ink"),
        Column(head="Attached to", share=2.2, style="small-ink"),
        Column(head="By", share=1.5, style="small-ink"),
        Column(head="SHA-256 and size", share=2.6, style="mono-small"),
    ]
    _section(sheets, "Attached files", columns, rows, "")


def _named(file: Doc) -> str:
    said = [file["name"], file["note"]]
    if gone := file["withdrawn"]:
        said.append(f"WITHDRAWN by {gone['by']}: {gone['reason']}")
    return "\n".join(filter(None, said))


def digest_lines(digest: str) -> str:
    """Return a SHA-256 in lines of sixteen digits."""
    return "\n".join(digest[n : n + 16] for n in range(0, len(digest), 16))


def _people(sheets: Sheets, document: Doc) -> None:
    rows: list[list[Cell]] = [
        [p["name"], p["role"], p["organisation"], key_lines(p["key"])]
        for p in document["people"]
    ]
    columns = [
        Column(head="Name", share=1.7, style="small-ink"),
        Column(head="Role", share=1.0, style="small-ink"),
        Column(head="Organisation", share=2.0, style="small-ink"),
        Column(
            head="Fingerprint of the signing key's certificate",
            share=3.4,
            style="mono-small",
        ),
    ]
    _section(sheets, "People", columns, rows, "Nobody has recorded anything.")


def _waived(sheets: Sheets, document: Doc) -> None:
    if not document.get("waived"):
        return
    rows: list[list[Cell]] = [
        [w["person"], w["reason"], f"{w['by']}\n{times.at(w['at'], document['zone'])}"]
        for w in document["waived"]
    ]
    columns = [
        Column(head="Signature of", share=1.7, style="small-ink"),
        Column(head="Waived because", share=5.0, style="small-ink"),
        Column(head="By", share=2.0, style="small-ink"),
    ]
    _section(sheets, "Signatures waived", columns, rows, "")


def _not_waited_for(sheets: Sheets, document: Doc) -> None:
    if not document.get("tablets"):
        return
    columns = [Column(head="Decided", share=1.0, style="small-ink")]
    rows: list[list[Cell]] = [[sentence] for sentence in document["tablets"]]
    _section(sheets, "Tablets not waited for", columns, rows, "")


def decision_words(disposition: Doc) -> str:
    """Return a decision as people read it."""
    said = disposition.get("decision_text") or disposition["decision"]
    return str(said).replace("_", " ")


def key_lines(key: str) -> str:
    """Return a fingerprint in two lines, cut between its pairs."""
    pairs = key.split(":")
    half = len(pairs) // 2
    return f"{':'.join(pairs[:half])}:\n{':'.join(pairs[half:])}" if half else key


def _said_units(accuracy: str) -> str:
    return re.sub(r"[A-Za-z-]+", lambda word: said_unit(word[0]), accuracy)
