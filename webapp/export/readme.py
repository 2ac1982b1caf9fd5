"""README.txt: what is in the export, in plain words, told from what is in it."""

from models.services.export.scope import Scope
from webapp.export.counted import Counted

KINDS = {"site": "a site", "lineup": "a lineup", "round": "a round"}


def readme(scope: Scope, counted: Counted) -> str:
    """Return the text; it says what was counted while the parts were written."""
    return "\n".join(
        [
            f"Export of {KINDS[scope.kind]}: {scope.name}",
            "",
            "This folder holds what is on record, in open forms: it is read without",
            "the program that wrote it.",
            "",
            *_said(counted),
            "",
            "Rounds:",
            *(f"  {line}" for line in counted.rounds or ["none"]),
            "",
            "Rows by table:",
            *(f"  {name}: {count}" for name, count in sorted(counted.rows.items())),
            "",
            *CHECKING,
            "",
        ]
    )


def _said(counted: Counted) -> list[str]:
    lines = [
        (
            "rounds/*/record.json",
            f"{len(counted.rounds)}, one a round: cards, lines of safety, readings "
            "with verdict, working and sources, deficiencies, decisions, instruments, "
            "people (schemas/record.json; numbers are text, as they were)",
        ),
        (
            "rounds/*/package-*.pdf",
            f"{counted.packages}, as they were signed (PDF/A-3); the newest file of "
            "each package, with the earlier signatures inside",
        ),
        (
            "readings.csv",
            f"{counted.readings} readings, one a row; datapackage.json says what each "
            "column means. A text that a spreadsheet took for a formula begins with '",
        ),
        (
            "files.csv, files/",
            f"{counted.files} attachments; each content is there once, in a folder "
            "named by its SHA-256",
        ),
        (
            "tables/*.json",
            f"{len(counted.rows)} tables, each row as it is stored "
            "(schemas/tables/*.json); `x_id` is the `id` of a row of another table",
        ),
        ("log.jsonl", f"{counted.log} entries of the log, one a line"),
        (
            "certificates/",
            "the root certificate; those of the people are in tables/signing_key.json",
        ),
        ("SHA256SUMS", "the SHA-256 of every other file"),
    ]
    return [line for path, about in lines for line in (path, f"    {about}")]


CHECKING = (
    "To check that nothing was changed: sha256sum -c SHA256SUMS",
    "To check the signatures of a package: any PDF reader, or witnessmark verify.",
    "People are named with their organisation; passwords and private keys are not",
    "in here, and nobody who reads this can sign.",
)
