"""`witnessmark verify`: check a package without a database."""

import json
import logging
import sys
from pathlib import Path
from typing import TYPE_CHECKING, Any, BinaryIO

import click

from models.record.conformity import WORDS

if TYPE_CHECKING:
    from models.signing.verification import Verification


@click.command(name="verify")
@click.argument("file", type=click.File("rb"))
@click.option(
    "--root",
    type=click.Path(exists=True, dir_okay=False, path_type=Path),
    help="The authority's certificate (PEM), as the test firm gave it to you.",
)
@click.option("--json", "as_json", is_flag=True, help="Write the findings as JSON.")
def verify_command(file: BinaryIO, root: Path | None, *, as_json: bool) -> None:
    """Check who signed the package FILE, and that nothing has changed since.

    Exit 0 only if every signature, the record inside and the whole file hold.
    """
    from models.signing.verification import verify_package  # noqa: PLC0415

    # What the library that reads signatures would log is in the findings.
    logging.getLogger().addHandler(logging.NullHandler())
    trusted = root.read_text("utf-8", errors="replace") if root else None
    found = verify_package(file.read(), trusted)
    if as_json:
        click.echo(json.dumps(_findings(found), ensure_ascii=False, indent=1))
    else:
        _say(found)
    sys.exit(0 if found.ok else 1)


def _findings(found: "Verification") -> dict[str, Any]:
    return {
        "ok": found.ok,
        "sha256": found.sha256,
        "root": found.root,
        "own_root": found.own_root,
        "signatures": [
            {name: getattr(seal, name) for name in seal.__slots__}
            for seal in found.seals
        ],
        "card_signatures": found.card_seals,
        "safety_lines": _safety_lines(found.record),
        "faults": found.faults,
    }


def _safety_lines(record: dict[str, Any] | None) -> int:
    """Return how many lines of safety the record has; older ones have none."""
    return int(((record or {}).get("safety") or {}).get("lines", 0))


def _word(record: dict[str, Any]) -> str:
    """Return whether the round conforms; the first schema knew yes and no only."""
    if "conformity" in record:
        return WORDS[record["conformity"]["word"]]
    return "CONFORMS" if record["conforms"] else "DOES NOT CONFORM"


def _say(found: "Verification") -> None:
    record = found.record
    if record:
        title = record["round"]["title"]
        click.echo(
            f"{record['site']['name']}, {record['lineup']['name']}, {title}, "
            f"revision {record['revision']}: " + _word(record)
        )
    for seal in found.seals:
        mark = "holds" if seal.holds else f"DOES NOT HOLD ({seal.why})"
        click.echo(f"  {seal.field}: {seal.person}, {seal.at}: {mark}")
        click.echo(f"    {seal.reason}")
        click.echo(f"    key {seal.key}")
    if found.card_seals:
        click.echo(f"  {found.card_seals} card signatures hold")
    if lines := _safety_lines(record):
        click.echo(f"  {lines} lines of safety, as sheet S says")
    click.echo(f"  SHA-256 of the file {found.sha256}")
    if found.root:
        click.echo(f"  authority {found.root}")
    if found.own_root and found.root:
        click.echo(
            "  Checked against the certificate inside the file: compare the authority "
            "above\n  with what the test firm told you, or give it with --root."
        )
    for fault in found.faults:
        click.echo(f"  FAULT: {fault}", err=True)
    click.echo("Everything holds." if found.ok else "This package does not hold.")
