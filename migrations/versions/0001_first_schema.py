"""First schema: sites, rounds, cards, readings, signatures, the log.

Revision 0001, the first, made 2026-11-25.

Both directions are tested with rows before and after, on SQLite and PostgreSQL.
Import nothing of ours here: a revision must read the same in ten years.
"""

import sqlalchemy as sa
from alembic import op

revision = "0001"
down_revision = None
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Upgrade."""
    op.create_table(
        "authority",
        sa.Column("certificate_pem", sa.Text(), nullable=False),
        sa.Column("wrapped_key", sa.Text(), nullable=False),
        sa.Column("created_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("id", sa.Uuid(), nullable=False),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_authority")),
        sqlite_strict=True,
    )
    op.create_table(
        "organisation",
        sa.Column("kind", sa.Text(), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("address", sa.Text(), nullable=False),
        sa.Column("id", sa.Uuid(), nullable=False),
        sa.CheckConstraint(
            "kind IN ('owner', 'test_firm')", name=op.f("ck_organisation_kind")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_organisation")),
        sa.UniqueConstraint("name", name=op.f("uq_organisation_name")),
        sqlite_strict=True,
    )
    op.create_table(
        "sign_in_attempt",
        sa.Column("sign_in", sa.Text(), nullable=False),
        sa.Column("at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("id", sa.Uuid(), nullable=False),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_sign_in_attempt")),
        sqlite_strict=True,
    )
    with op.batch_alter_table("sign_in_attempt", schema=None) as batch_op:
        batch_op.create_index(
            batch_op.f("ix_sign_in_attempt_sign_in"), ["sign_in"], unique=False
        )

    op.create_table(
        "instrument",
        sa.Column("organisation_id", sa.Uuid(), nullable=False),
        sa.Column("tag", sa.Text(), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("serial", sa.Text(), nullable=False),
        sa.Column("procedures", sa.JSON(), nullable=False),
        sa.Column("accuracy_pct", sa.Double(), nullable=True),
        sa.Column("accuracy_fixed", sa.Double(), nullable=True),
        sa.Column("accuracy_unit", sa.Text(), nullable=True),
        sa.Column("id", sa.Uuid(), nullable=False),
        sa.ForeignKeyConstraint(
            ["organisation_id"],
            ["organisation.id"],
            name=op.f("fk_instrument_organisation_id_organisation"),
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_instrument")),
        sa.UniqueConstraint(
            "organisation_id", "tag", name=op.f("uq_instrument_organisation_id_tag")
        ),
        sqlite_strict=True,
    )
    op.create_table(
        "person",
        sa.Column("organisation_id", sa.Uuid(), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("sign_in", sa.Text(), nullable=False),
        sa.Column("role", sa.Text(), nullable=False),
        sa.Column("password_hash", sa.Text(), nullable=False),
        sa.Column("session_epoch", sa.Integer(), nullable=False),
        sa.Column("active", sa.Boolean(), nullable=False),
        sa.Column("created_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("id", sa.Uuid(), nullable=False),
        sa.CheckConstraint(
            "role IN ('technician', 'lead', 'owner')", name=op.f("ck_person_role")
        ),
        sa.ForeignKeyConstraint(
            ["organisation_id"],
            ["organisation.id"],
            name=op.f("fk_person_organisation_id_organisation"),
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_person")),
        sa.UniqueConstraint("sign_in", name=op.f("uq_person_sign_in")),
        sqlite_strict=True,
    )
    op.create_table(
        "site",
        sa.Column("owner_id", sa.Uuid(), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("address", sa.Text(), nullable=False),
        sa.Column("zone", sa.Text(), nullable=False),
        sa.Column("id", sa.Uuid(), nullable=False),
        sa.ForeignKeyConstraint(
            ["owner_id"],
            ["organisation.id"],
            name=op.f("fk_site_owner_id_organisation"),
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_site")),
        sqlite_strict=True,
    )
    with op.batch_alter_table("site", schema=None) as batch_op:
        batch_op.create_index(
            batch_op.f("ix_site_owner_id"), ["owner_id"], unique=False
        )

    op.create_table(
        "calibration",
        sa.Column("instrument_id", sa.Uuid(), nullable=False),
        sa.Column("calibrated_on", sa.Date(), nullable=False),
        sa.Column("due_on", sa.Date(), nullable=False),
        sa.Column("certificate_no", sa.Text(), nullable=False),
        sa.Column("laboratory", sa.Text(), nullable=False),
        sa.Column("id", sa.Uuid(), nullable=False),
        sa.CheckConstraint(
            "calibrated_on < due_on", name=op.f("ck_calibration_due_after")
        ),
        sa.ForeignKeyConstraint(
            ["instrument_id"],
            ["instrument.id"],
            name=op.f("fk_calibration_instrument_id_instrument"),
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_calibration")),
        sqlite_strict=True,
    )
    with op.batch_alter_table("calibration", schema=None) as batch_op:
        batch_op.create_index(
            batch_op.f("ix_calibration_instrument_id"), ["instrument_id"], unique=False
        )

    op.create_table(
        "lineup",
        sa.Column("site_id", sa.Uuid(), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("gear", sa.Text(), nullable=False),
        sa.Column("rated_kv", sa.Double(), nullable=False),
        sa.Column("rated_withstand_kv", sa.Double(), nullable=True),
        sa.Column("rated_impulse_kv", sa.Double(), nullable=True),
        sa.Column("rated_a", sa.Double(), nullable=True),
        sa.Column("rated_ka", sa.Double(), nullable=True),
        sa.Column("rated_s", sa.Double(), nullable=True),
        sa.Column("rated_hz", sa.Double(), nullable=True),
        sa.Column("level_ac_kv", sa.Double(), nullable=True),
        sa.Column("level_dc_kv", sa.Double(), nullable=True),
        sa.Column("built_year", sa.Integer(), nullable=True),
        sa.Column("serial", sa.Text(), nullable=True),
        sa.Column("id", sa.Uuid(), nullable=False),
        sa.CheckConstraint(
            "gear IN ('metal_enclosed', 'metal_clad', 'gas_insulated')",
            name=op.f("ck_lineup_gear"),
        ),
        sa.ForeignKeyConstraint(
            ["site_id"], ["site.id"], name=op.f("fk_lineup_site_id_site")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_lineup")),
        sa.UniqueConstraint("site_id", "name", name=op.f("uq_lineup_site_id_name")),
        sqlite_strict=True,
    )
    op.create_table(
        "log_entry",
        sa.Column("seq", sa.Integer(), autoincrement=False, nullable=False),
        sa.Column("at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("actor_id", sa.Uuid(), nullable=True),
        sa.Column("action", sa.Text(), nullable=False),
        sa.Column("subject", sa.Text(), nullable=False),
        sa.Column("body", sa.Text(), nullable=False),
        sa.Column("previous", sa.Text(), nullable=False),
        sa.Column("hash", sa.Text(), nullable=False),
        sa.ForeignKeyConstraint(
            ["actor_id"], ["person.id"], name=op.f("fk_log_entry_actor_id_person")
        ),
        sa.PrimaryKeyConstraint("seq", name=op.f("pk_log_entry")),
        sqlite_strict=True,
    )
    op.create_table(
        "receipt",
        sa.Column("person_id", sa.Uuid(), nullable=False),
        sa.Column("digest", sa.Text(), nullable=False),
        sa.Column("received_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("id", sa.Uuid(), nullable=False),
        sa.ForeignKeyConstraint(
            ["person_id"], ["person.id"], name=op.f("fk_receipt_person_id_person")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_receipt")),
        sqlite_strict=True,
    )
    op.create_table(
        "signing_key",
        sa.Column("person_id", sa.Uuid(), nullable=False),
        sa.Column("certificate_pem", sa.Text(), nullable=False),
        sa.Column("wrapped_key", sa.Text(), nullable=False),
        sa.Column("created_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("id", sa.Uuid(), nullable=False),
        sa.ForeignKeyConstraint(
            ["person_id"], ["person.id"], name=op.f("fk_signing_key_person_id_person")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_signing_key")),
        sa.UniqueConstraint("person_id", name=op.f("uq_signing_key_person_id")),
        sqlite_strict=True,
    )
    op.create_table(
        "site_assignment",
        sa.Column("person_id", sa.Uuid(), nullable=False),
        sa.Column("site_id", sa.Uuid(), nullable=False),
        sa.Column("since", sa.DateTime(timezone=True), nullable=False),
        sa.ForeignKeyConstraint(
            ["person_id"],
            ["person.id"],
            name=op.f("fk_site_assignment_person_id_person"),
        ),
        sa.ForeignKeyConstraint(
            ["site_id"], ["site.id"], name=op.f("fk_site_assignment_site_id_site")
        ),
        sa.PrimaryKeyConstraint(
            "person_id", "site_id", name=op.f("pk_site_assignment")
        ),
        sqlite_strict=True,
    )
    op.create_table(
        "cell",
        sa.Column("lineup_id", sa.Uuid(), nullable=False),
        sa.Column("position", sa.Integer(), nullable=False),
        sa.Column("number", sa.Text(), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("kind", sa.Text(), nullable=False),
        sa.Column("bus", sa.Text(), nullable=False),
        sa.Column("id", sa.Uuid(), nullable=False),
        sa.ForeignKeyConstraint(
            ["lineup_id"], ["lineup.id"], name=op.f("fk_cell_lineup_id_lineup")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_cell")),
        sa.UniqueConstraint(
            "lineup_id", "position", name=op.f("uq_cell_lineup_id_position")
        ),
        sqlite_strict=True,
    )
    op.create_table(
        "round",
        sa.Column("lineup_id", sa.Uuid(), nullable=False),
        sa.Column("kind", sa.Text(), nullable=False),
        sa.Column("number", sa.Integer(), nullable=False),
        sa.Column("programme", sa.Text(), nullable=False),
        sa.Column("state", sa.Text(), nullable=False),
        sa.Column("revision", sa.Integer(), nullable=False),
        sa.Column("opened_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("opened_by_id", sa.Uuid(), nullable=False),
        sa.Column("id", sa.Uuid(), nullable=False),
        sa.CheckConstraint(
            "kind IN ('acceptance', 'maintenance')", name=op.f("ck_round_kind")
        ),
        sa.CheckConstraint(
            "state IN ('open', 'approved', 'accepted')", name=op.f("ck_round_state")
        ),
        sa.ForeignKeyConstraint(
            ["lineup_id"], ["lineup.id"], name=op.f("fk_round_lineup_id_lineup")
        ),
        sa.ForeignKeyConstraint(
            ["opened_by_id"], ["person.id"], name=op.f("fk_round_opened_by_id_person")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_round")),
        sa.UniqueConstraint(
            "lineup_id", "kind", "number", name=op.f("uq_round_lineup_id_kind_number")
        ),
        sqlite_strict=True,
    )
    op.create_table(
        "apparatus",
        sa.Column("cell_id", sa.Uuid(), nullable=False),
        sa.Column("position", sa.Integer(), nullable=False),
        sa.Column("kind", sa.Text(), nullable=False),
        sa.Column("label", sa.Text(), nullable=False),
        sa.Column("nameplate", sa.JSON(), nullable=False),
        sa.Column("id", sa.Uuid(), nullable=False),
        sa.ForeignKeyConstraint(
            ["cell_id"], ["cell.id"], name=op.f("fk_apparatus_cell_id_cell")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_apparatus")),
        sa.UniqueConstraint(
            "cell_id", "position", name=op.f("uq_apparatus_cell_id_position")
        ),
        sqlite_strict=True,
    )
    op.create_table(
        "package",
        sa.Column("round_id", sa.Uuid(), nullable=False),
        sa.Column("revision", sa.Integer(), nullable=False),
        sa.Column("attempt", sa.Integer(), nullable=False),
        sa.Column("content_digest", sa.Text(), nullable=False),
        sa.Column("document", sa.Text(), nullable=False),
        sa.Column("made_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("id", sa.Uuid(), nullable=False),
        sa.ForeignKeyConstraint(
            ["round_id"], ["round.id"], name=op.f("fk_package_round_id_round")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_package")),
        sa.UniqueConstraint(
            "round_id",
            "revision",
            "attempt",
            name=op.f("uq_package_round_id_revision_attempt"),
        ),
        sqlite_strict=True,
    )
    op.create_table(
        "seal_waiver",
        sa.Column("round_id", sa.Uuid(), nullable=False),
        sa.Column("person_id", sa.Uuid(), nullable=False),
        sa.Column("reason", sa.Text(), nullable=False),
        sa.Column("by_id", sa.Uuid(), nullable=False),
        sa.Column("at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("id", sa.Uuid(), nullable=False),
        sa.ForeignKeyConstraint(
            ["by_id"], ["person.id"], name=op.f("fk_seal_waiver_by_id_person")
        ),
        sa.ForeignKeyConstraint(
            ["person_id"], ["person.id"], name=op.f("fk_seal_waiver_person_id_person")
        ),
        sa.ForeignKeyConstraint(
            ["round_id"], ["round.id"], name=op.f("fk_seal_waiver_round_id_round")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_seal_waiver")),
        sa.UniqueConstraint(
            "round_id", "person_id", name=op.f("uq_seal_waiver_round_id_person_id")
        ),
        sqlite_strict=True,
    )
    op.create_table(
        "card",
        sa.Column("round_id", sa.Uuid(), nullable=False),
        sa.Column("apparatus_id", sa.Uuid(), nullable=False),
        sa.Column("position", sa.Integer(), nullable=False),
        sa.Column("procedure", sa.Text(), nullable=False),
        sa.Column("detail", sa.Text(), nullable=False),
        sa.Column("unit", sa.Text(), nullable=False),
        sa.Column("defaults", sa.JSON(), nullable=False),
        sa.Column("assigned_to_id", sa.Uuid(), nullable=True),
        sa.Column("id", sa.Uuid(), nullable=False),
        sa.ForeignKeyConstraint(
            ["apparatus_id"],
            ["apparatus.id"],
            name=op.f("fk_card_apparatus_id_apparatus"),
        ),
        sa.ForeignKeyConstraint(
            ["assigned_to_id"],
            ["person.id"],
            name=op.f("fk_card_assigned_to_id_person"),
        ),
        sa.ForeignKeyConstraint(
            ["round_id"], ["round.id"], name=op.f("fk_card_round_id_round")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_card")),
        sa.UniqueConstraint(
            "round_id", "position", name=op.f("uq_card_round_id_position")
        ),
        sqlite_strict=True,
    )
    op.create_table(
        "package_file",
        sa.Column("package_id", sa.Uuid(), nullable=False),
        sa.Column("seq", sa.Integer(), nullable=False),
        sa.Column("field", sa.Text(), nullable=False),
        sa.Column("by_id", sa.Uuid(), nullable=False),
        sa.Column("at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("sha256", sa.Text(), nullable=False),
        sa.Column("pdf", sa.LargeBinary(), nullable=False),
        sa.Column("id", sa.Uuid(), nullable=False),
        sa.ForeignKeyConstraint(
            ["by_id"], ["person.id"], name=op.f("fk_package_file_by_id_person")
        ),
        sa.ForeignKeyConstraint(
            ["package_id"],
            ["package.id"],
            name=op.f("fk_package_file_package_id_package"),
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_package_file")),
        sa.UniqueConstraint(
            "package_id", "seq", name=op.f("uq_package_file_package_id_seq")
        ),
        sqlite_strict=True,
    )
    op.create_table(
        "card_return",
        sa.Column("card_id", sa.Uuid(), nullable=False),
        sa.Column("reason", sa.Text(), nullable=False),
        sa.Column("by_id", sa.Uuid(), nullable=False),
        sa.Column("at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("id", sa.Uuid(), nullable=False),
        sa.ForeignKeyConstraint(
            ["by_id"], ["person.id"], name=op.f("fk_card_return_by_id_person")
        ),
        sa.ForeignKeyConstraint(
            ["card_id"], ["card.id"], name=op.f("fk_card_return_card_id_card")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_card_return")),
        sqlite_strict=True,
    )
    with op.batch_alter_table("card_return", schema=None) as batch_op:
        batch_op.create_index(
            batch_op.f("ix_card_return_card_id"), ["card_id"], unique=False
        )

    op.create_table(
        "card_withdrawal",
        sa.Column("card_id", sa.Uuid(), nullable=False),
        sa.Column("reason", sa.Text(), nullable=False),
        sa.Column("by_id", sa.Uuid(), nullable=False),
        sa.Column("at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("id", sa.Uuid(), nullable=False),
        sa.ForeignKeyConstraint(
            ["by_id"], ["person.id"], name=op.f("fk_card_withdrawal_by_id_person")
        ),
        sa.ForeignKeyConstraint(
            ["card_id"], ["card.id"], name=op.f("fk_card_withdrawal_card_id_card")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_card_withdrawal")),
        sa.UniqueConstraint("card_id", name=op.f("uq_card_withdrawal_card_id")),
        sqlite_strict=True,
    )
    op.create_table(
        "confirmation",
        sa.Column("card_id", sa.Uuid(), nullable=False),
        sa.Column("code", sa.Text(), nullable=False),
        sa.Column("text", sa.Text(), nullable=False),
        sa.Column("state", sa.Text(), nullable=False),
        sa.Column("reason", sa.Text(), nullable=True),
        sa.Column("by_id", sa.Uuid(), nullable=False),
        sa.Column("at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("arrived_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("id", sa.Uuid(), nullable=False),
        sa.CheckConstraint(
            "state IN ('confirmed', 'not_applicable')",
            name=op.f("ck_confirmation_state"),
        ),
        sa.ForeignKeyConstraint(
            ["by_id"], ["person.id"], name=op.f("fk_confirmation_by_id_person")
        ),
        sa.ForeignKeyConstraint(
            ["card_id"], ["card.id"], name=op.f("fk_confirmation_card_id_card")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_confirmation")),
        sqlite_strict=True,
    )
    with op.batch_alter_table("confirmation", schema=None) as batch_op:
        batch_op.create_index(
            "ix_confirmation_card_id_code", ["card_id", "code"], unique=False
        )

    op.create_table(
        "note",
        sa.Column("card_id", sa.Uuid(), nullable=False),
        sa.Column("text", sa.Text(), nullable=False),
        sa.Column("by_id", sa.Uuid(), nullable=False),
        sa.Column("at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("arrived_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("id", sa.Uuid(), nullable=False),
        sa.ForeignKeyConstraint(
            ["by_id"], ["person.id"], name=op.f("fk_note_by_id_person")
        ),
        sa.ForeignKeyConstraint(
            ["card_id"], ["card.id"], name=op.f("fk_note_card_id_card")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_note")),
        sqlite_strict=True,
    )
    with op.batch_alter_table("note", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_note_card_id"), ["card_id"], unique=False)

    op.create_table(
        "point",
        sa.Column("card_id", sa.Uuid(), nullable=False),
        sa.Column("position", sa.Integer(), nullable=False),
        sa.Column("label", sa.Text(), nullable=False),
        sa.Column("group", sa.Text(), nullable=False),
        sa.Column("given", sa.JSON(), nullable=False),
        sa.Column("rule", sa.JSON(), nullable=False),
        sa.Column("id", sa.Uuid(), nullable=False),
        sa.ForeignKeyConstraint(
            ["card_id"], ["card.id"], name=op.f("fk_point_card_id_card")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_point")),
        sa.UniqueConstraint(
            "card_id", "position", name=op.f("uq_point_card_id_position")
        ),
        sqlite_strict=True,
    )
    op.create_table(
        "signature",
        sa.Column("card_id", sa.Uuid(), nullable=True),
        sa.Column("package_id", sa.Uuid(), nullable=True),
        sa.Column("meaning", sa.Text(), nullable=False),
        sa.Column("statement", sa.Text(), nullable=False),
        sa.Column("seal", sa.Text(), nullable=False),
        sa.Column("fingerprint", sa.Text(), nullable=False),
        sa.Column("by_id", sa.Uuid(), nullable=False),
        sa.Column("at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("id", sa.Uuid(), nullable=False),
        sa.CheckConstraint(
            "meaning IN ('performed', 'approved', 'accepted')",
            name=op.f("ck_signature_meaning"),
        ),
        sa.CheckConstraint(
            "(card_id IS NULL) <> (package_id IS NULL)",
            name=op.f("ck_signature_subject"),
        ),
        sa.ForeignKeyConstraint(
            ["by_id"], ["person.id"], name=op.f("fk_signature_by_id_person")
        ),
        sa.ForeignKeyConstraint(
            ["card_id"], ["card.id"], name=op.f("fk_signature_card_id_card")
        ),
        sa.ForeignKeyConstraint(
            ["package_id"], ["package.id"], name=op.f("fk_signature_package_id_package")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_signature")),
        sqlite_strict=True,
    )
    with op.batch_alter_table("signature", schema=None) as batch_op:
        batch_op.create_index(
            batch_op.f("ix_signature_card_id"), ["card_id"], unique=False
        )
        batch_op.create_index(
            batch_op.f("ix_signature_package_id"), ["package_id"], unique=False
        )

    op.create_table(
        "reading",
        sa.Column("card_id", sa.Uuid(), nullable=False),
        sa.Column("point_id", sa.Uuid(), nullable=False),
        sa.Column("text", sa.Text(), nullable=False),
        sa.Column("unit", sa.Text(), nullable=True),
        sa.Column("low", sa.Double(), nullable=True),
        sa.Column("high", sa.Double(), nullable=True),
        sa.Column("outcome", sa.Text(), nullable=True),
        sa.Column("conditions", sa.JSON(), nullable=False),
        sa.Column("instrument_id", sa.Uuid(), nullable=False),
        sa.Column("calibration_id", sa.Uuid(), nullable=True),
        sa.Column("accuracy", sa.JSON(), nullable=False),
        sa.Column("rule", sa.JSON(), nullable=False),
        sa.Column("by_id", sa.Uuid(), nullable=False),
        sa.Column("device", sa.Text(), nullable=False),
        sa.Column("taken_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("arrived_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("supersedes_id", sa.Uuid(), nullable=True),
        sa.Column("reason", sa.Text(), nullable=True),
        sa.Column("id", sa.Uuid(), nullable=False),
        sa.CheckConstraint(
            "low IS NULL OR high IS NULL OR low <= high",
            name=op.f("ck_reading_interval"),
        ),
        sa.CheckConstraint(
            "supersedes_id IS NULL OR reason IS NOT NULL",
            name=op.f("ck_reading_superseding_reason"),
        ),
        sa.ForeignKeyConstraint(
            ["by_id"], ["person.id"], name=op.f("fk_reading_by_id_person")
        ),
        sa.ForeignKeyConstraint(
            ["calibration_id"],
            ["calibration.id"],
            name=op.f("fk_reading_calibration_id_calibration"),
        ),
        sa.ForeignKeyConstraint(
            ["card_id"], ["card.id"], name=op.f("fk_reading_card_id_card")
        ),
        sa.ForeignKeyConstraint(
            ["instrument_id"],
            ["instrument.id"],
            name=op.f("fk_reading_instrument_id_instrument"),
        ),
        sa.ForeignKeyConstraint(
            ["point_id"], ["point.id"], name=op.f("fk_reading_point_id_point")
        ),
        sa.ForeignKeyConstraint(
            ["supersedes_id"],
            ["reading.id"],
            name=op.f("fk_reading_supersedes_id_reading"),
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_reading")),
        sa.UniqueConstraint("supersedes_id", name=op.f("uq_reading_supersedes_id")),
        sqlite_strict=True,
    )
    with op.batch_alter_table("reading", schema=None) as batch_op:
        batch_op.create_index(
            batch_op.f("ix_reading_card_id"), ["card_id"], unique=False
        )
        batch_op.create_index(
            batch_op.f("ix_reading_point_id"), ["point_id"], unique=False
        )

    op.create_table(
        "deficiency",
        sa.Column("round_id", sa.Uuid(), nullable=False),
        sa.Column("card_id", sa.Uuid(), nullable=False),
        sa.Column("number", sa.Integer(), nullable=False),
        sa.Column("text", sa.Text(), nullable=False),
        sa.Column("severity", sa.Text(), nullable=False),
        sa.Column("holder", sa.Text(), nullable=False),
        sa.Column("reading_id", sa.Uuid(), nullable=True),
        sa.Column("by_id", sa.Uuid(), nullable=False),
        sa.Column("at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("arrived_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("id", sa.Uuid(), nullable=False),
        sa.CheckConstraint(
            "severity IN ('stops_turnover', 'may_follow')",
            name=op.f("ck_deficiency_severity"),
        ),
        sa.ForeignKeyConstraint(
            ["by_id"], ["person.id"], name=op.f("fk_deficiency_by_id_person")
        ),
        sa.ForeignKeyConstraint(
            ["card_id"], ["card.id"], name=op.f("fk_deficiency_card_id_card")
        ),
        sa.ForeignKeyConstraint(
            ["reading_id"],
            ["reading.id"],
            name=op.f("fk_deficiency_reading_id_reading"),
        ),
        sa.ForeignKeyConstraint(
            ["round_id"], ["round.id"], name=op.f("fk_deficiency_round_id_round")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_deficiency")),
        sa.UniqueConstraint(
            "round_id", "number", name=op.f("uq_deficiency_round_id_number")
        ),
        sqlite_strict=True,
    )
    op.create_table(
        "judgement",
        sa.Column("reading_id", sa.Uuid(), nullable=False),
        sa.Column("seq", sa.Integer(), nullable=False),
        sa.Column("at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("cause", sa.Text(), nullable=False),
        sa.Column("verdict", sa.Text(), nullable=False),
        sa.Column("corrected", sa.Double(), nullable=True),
        sa.Column("body", sa.JSON(), nullable=False),
        sa.Column("id", sa.Uuid(), nullable=False),
        sa.CheckConstraint(
            "verdict IN ('within', 'marginal', 'outside', 'unjudged')",
            name=op.f("ck_judgement_verdict"),
        ),
        sa.ForeignKeyConstraint(
            ["reading_id"], ["reading.id"], name=op.f("fk_judgement_reading_id_reading")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_judgement")),
        sa.UniqueConstraint(
            "reading_id", "seq", name=op.f("uq_judgement_reading_id_seq")
        ),
        sqlite_strict=True,
    )
    op.create_table(
        "deficiency_closing",
        sa.Column("deficiency_id", sa.Uuid(), nullable=False),
        sa.Column("reading_id", sa.Uuid(), nullable=True),
        sa.Column("text", sa.Text(), nullable=False),
        sa.Column("by_id", sa.Uuid(), nullable=False),
        sa.Column("at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("arrived_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("id", sa.Uuid(), nullable=False),
        sa.ForeignKeyConstraint(
            ["by_id"], ["person.id"], name=op.f("fk_deficiency_closing_by_id_person")
        ),
        sa.ForeignKeyConstraint(
            ["deficiency_id"],
            ["deficiency.id"],
            name=op.f("fk_deficiency_closing_deficiency_id_deficiency"),
        ),
        sa.ForeignKeyConstraint(
            ["reading_id"],
            ["reading.id"],
            name=op.f("fk_deficiency_closing_reading_id_reading"),
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_deficiency_closing")),
        sa.UniqueConstraint(
            "deficiency_id", name=op.f("uq_deficiency_closing_deficiency_id")
        ),
        sqlite_strict=True,
    )
    op.create_table(
        "disposition",
        sa.Column("reading_id", sa.Uuid(), nullable=False),
        sa.Column("judgement_id", sa.Uuid(), nullable=False),
        sa.Column("decision", sa.Text(), nullable=False),
        sa.Column("reason", sa.Text(), nullable=False),
        sa.Column("by_id", sa.Uuid(), nullable=False),
        sa.Column("at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("id", sa.Uuid(), nullable=False),
        sa.CheckConstraint(
            "decision IN ('use_as_is', 'accept_with_limits', 'reject')",
            name=op.f("ck_disposition_decision"),
        ),
        sa.ForeignKeyConstraint(
            ["by_id"], ["person.id"], name=op.f("fk_disposition_by_id_person")
        ),
        sa.ForeignKeyConstraint(
            ["judgement_id"],
            ["judgement.id"],
            name=op.f("fk_disposition_judgement_id_judgement"),
        ),
        sa.ForeignKeyConstraint(
            ["reading_id"],
            ["reading.id"],
            name=op.f("fk_disposition_reading_id_reading"),
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_disposition")),
        sqlite_strict=True,
    )
    with op.batch_alter_table("disposition", schema=None) as batch_op:
        batch_op.create_index(
            batch_op.f("ix_disposition_reading_id"), ["reading_id"], unique=False
        )


def downgrade() -> None:
    """Downgrade."""
    with op.batch_alter_table("disposition", schema=None) as batch_op:
        batch_op.drop_index(batch_op.f("ix_disposition_reading_id"))

    op.drop_table("disposition")
    op.drop_table("deficiency_closing")
    op.drop_table("judgement")
    op.drop_table("deficiency")
    with op.batch_alter_table("reading", schema=None) as batch_op:
        batch_op.drop_index(batch_op.f("ix_reading_point_id"))
        batch_op.drop_index(batch_op.f("ix_reading_card_id"))

    op.drop_table("reading")
    with op.batch_alter_table("signature", schema=None) as batch_op:
        batch_op.drop_index(batch_op.f("ix_signature_package_id"))
        batch_op.drop_index(batch_op.f("ix_signature_card_id"))

    op.drop_table("signature")
    op.drop_table("point")
    with op.batch_alter_table("note", schema=None) as batch_op:
        batch_op.drop_index(batch_op.f("ix_note_card_id"))

    op.drop_table("note")
    with op.batch_alter_table("confirmation", schema=None) as batch_op:
        batch_op.drop_index("ix_confirmation_card_id_code")

    op.drop_table("confirmation")
    op.drop_table("card_withdrawal")
    with op.batch_alter_table("card_return", schema=None) as batch_op:
        batch_op.drop_index(batch_op.f("ix_card_return_card_id"))

    op.drop_table("card_return")
    op.drop_table("package_file")
    op.drop_table("card")
    op.drop_table("seal_waiver")
    op.drop_table("package")
    op.drop_table("apparatus")
    op.drop_table("round")
    op.drop_table("cell")
    op.drop_table("site_assignment")
    op.drop_table("signing_key")
    op.drop_table("receipt")
    op.drop_table("log_entry")
    op.drop_table("lineup")
    with op.batch_alter_table("calibration", schema=None) as batch_op:
        batch_op.drop_index(batch_op.f("ix_calibration_instrument_id"))

    op.drop_table("calibration")
    with op.batch_alter_table("site", schema=None) as batch_op:
        batch_op.drop_index(batch_op.f("ix_site_owner_id"))

    op.drop_table("site")
    op.drop_table("person")
    op.drop_table("instrument")
    with op.batch_alter_table("sign_in_attempt", schema=None) as batch_op:
        batch_op.drop_index(batch_op.f("ix_sign_in_attempt_sign_in"))

    op.drop_table("sign_in_attempt")
    op.drop_table("organisation")
    op.drop_table("authority")
