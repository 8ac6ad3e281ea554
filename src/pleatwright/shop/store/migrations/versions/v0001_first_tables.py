"""The first tables."""

import sqlalchemy as sa
from alembic import op

revision = "0001"
down_revision = None

TEXT = sa.Text().with_variant(sa.Text(collation="C"), "postgresql")


def _id() -> sa.Column[int]:
    return sa.Column("id", sa.Integer(), nullable=False)


def _number(name: str) -> sa.Column[int]:
    return sa.Column(name, sa.Integer(), nullable=False)


def _text(name: str) -> sa.Column[str]:
    return sa.Column(name, TEXT, nullable=False)


def upgrade() -> None:
    """Make them."""
    op.create_table(
        "clients",
        _id(),
        _number("version"),
        _text("name"),
        _text("email"),
        _text("phone"),
        _text("address"),
        _text("notes"),
        sa.Column("forgotten_on", sa.Date()),
        _text("folded"),
        sa.PrimaryKeyConstraint("id", name="pk_clients"),
        sqlite_autoincrement=True,
    )
    op.create_table(
        "drafts",
        _id(),
        _text("kind"),
        _number("of"),
        _number("base"),
        _text("by"),
        sa.Column("kept_at", sa.Text(), nullable=False),
        _text("text"),
        sa.PrimaryKeyConstraint("id", name="pk_drafts"),
        sqlite_autoincrement=True,
    )
    op.create_index("ix_drafts_kind_of", "drafts", ["kind", "of"])
    op.create_table(
        "shop",
        _id(),
        _number("version"),
        _text("document"),
        sa.PrimaryKeyConstraint("id", name="pk_shop"),
        sqlite_autoincrement=True,
    )
    op.create_table(
        "tartans",
        _id(),
        _number("version"),
        _text("name"),
        _text("document"),
        _text("weaver"),
        sa.Column("restricted", sa.Boolean(), nullable=False),
        _text("notes"),
        _text("folded"),
        sa.PrimaryKeyConstraint("id", name="pk_tartans"),
        sqlite_autoincrement=True,
    )
    op.create_table(
        "measurements",
        _id(),
        _number("version"),
        _number("client"),
        _text("wearer"),
        sa.Column("taken_on", sa.Date(), nullable=False),
        _text("taken_by"),
        _text("kind"),
        sa.Column("taken", sa.Text(), nullable=False),
        sa.Column("towel", sa.Boolean(), nullable=False),
        _text("figure"),
        _text("notes"),
        sa.ForeignKeyConstraint(["client"], ["clients.id"], name="fk_measurements_client"),
        sa.PrimaryKeyConstraint("id", name="pk_measurements"),
        sqlite_autoincrement=True,
    )
    op.create_index("ix_measurements_client", "measurements", ["client"])
    op.create_table(
        "orders",
        _id(),
        _number("version"),
        _number("client"),
        _text("reference"),
        _text("kind"),
        sa.Column("state", sa.Text(), nullable=False),
        sa.Column("promised", sa.Date()),
        sa.Column("deposit", sa.Text()),
        sa.Column("deposit_paid_on", sa.Date()),
        _text("document"),
        sa.Column("measurements", sa.Integer()),
        sa.Column("tartan", sa.Integer()),
        sa.Column("plan", sa.Integer()),
        sa.Column("option", sa.Integer()),
        _text("notes"),
        _text("folded"),
        sa.ForeignKeyConstraint(["client"], ["clients.id"], name="fk_orders_client"),
        sa.ForeignKeyConstraint(["measurements"], ["measurements.id"], name="fk_orders_measurements"),
        sa.ForeignKeyConstraint(["tartan"], ["tartans.id"], name="fk_orders_tartan"),
        sa.PrimaryKeyConstraint("id", name="pk_orders"),
        sqlite_autoincrement=True,
    )
    op.create_index("ix_orders_client", "orders", ["client"])
    op.create_index("ix_orders_measurements", "orders", ["measurements"])
    op.create_index("ix_orders_state_promised", "orders", ["state", "promised"])
    op.create_table(
        "checks",
        _id(),
        _number("order"),
        _number("number"),
        sa.Column("made_at", sa.Text(), nullable=False),
        _text("by"),
        sa.Column("key", TEXT),
        _text("plan_version"),
        _text("decision"),
        _text("record"),
        sa.ForeignKeyConstraint(["order"], ["orders.id"], name="fk_checks_order"),
        sa.PrimaryKeyConstraint("id", name="pk_checks"),
        sa.UniqueConstraint("order", "key", name="uq_checks_order_key"),
        sa.UniqueConstraint("order", "number", name="uq_checks_order_number"),
        sqlite_autoincrement=True,
    )
    op.create_table(
        "marks",
        _id(),
        _number("order"),
        _number("number"),
        sa.Column("made_at", sa.Text(), nullable=False),
        _text("by"),
        sa.Column("key", TEXT),
        _text("plan_version"),
        _text("mark"),
        sa.Column("found", sa.Text()),
        _text("note"),
        sa.ForeignKeyConstraint(["order"], ["orders.id"], name="fk_marks_order"),
        sa.PrimaryKeyConstraint("id", name="pk_marks"),
        sa.UniqueConstraint("order", "key", name="uq_marks_order_key"),
        sa.UniqueConstraint("order", "number", name="uq_marks_order_number"),
        sqlite_autoincrement=True,
    )
    op.create_table(
        "order_versions",
        _id(),
        _number("of"),
        _number("number"),
        sa.Column("saved_at", sa.Text(), nullable=False),
        _text("by"),
        sa.Column("state", sa.Text(), nullable=False),
        sa.Column("document", sa.LargeBinary(), nullable=False),
        sa.ForeignKeyConstraint(["of"], ["orders.id"], name="fk_order_versions_of"),
        sa.PrimaryKeyConstraint("id", name="pk_order_versions"),
        sa.UniqueConstraint("of", "number", name="uq_order_versions_of_number"),
        sqlite_autoincrement=True,
    )
    op.create_table(
        "pieces",
        _id(),
        _number("version"),
        _text("name"),
        _text("state"),
        sa.Column("tartan", sa.Integer()),
        sa.Column("order", sa.Integer()),
        sa.Column("came_from", sa.Integer()),
        _text("supplier"),
        sa.Column("arrived_on", sa.Date()),
        sa.Column("invoiced", sa.Text()),
        sa.Column("length", sa.Text()),
        sa.Column("width", sa.Text()),
        sa.Column("weight", sa.Text()),
        _text("document"),
        _text("shelf"),
        _text("notes"),
        _text("folded"),
        sa.ForeignKeyConstraint(
            ["came_from"], ["pieces.id"], name="fk_pieces_came_from", initially="DEFERRED", deferrable=True
        ),
        sa.ForeignKeyConstraint(["order"], ["orders.id"], name="fk_pieces_order"),
        sa.ForeignKeyConstraint(["tartan"], ["tartans.id"], name="fk_pieces_tartan"),
        sa.PrimaryKeyConstraint("id", name="pk_pieces"),
        sqlite_autoincrement=True,
    )
    op.create_index("ix_pieces_order", "pieces", ["order"])
    op.create_index("ix_pieces_tartan", "pieces", ["tartan"])
    op.create_table(
        "plans",
        _id(),
        _number("order"),
        _number("number"),
        sa.Column("made_at", sa.Text(), nullable=False),
        _text("by"),
        sa.Column("key", TEXT),
        _number("order_version"),
        _text("plan_version"),
        sa.Column("record", sa.LargeBinary(), nullable=False),
        sa.ForeignKeyConstraint(["order"], ["orders.id"], name="fk_plans_order"),
        sa.PrimaryKeyConstraint("id", name="pk_plans"),
        sa.UniqueConstraint("order", "key", name="uq_plans_order_key"),
        sa.UniqueConstraint("order", "number", name="uq_plans_order_number"),
        sqlite_autoincrement=True,
    )
    op.create_table(
        "quotes",
        _id(),
        _number("version"),
        _number("order"),
        sa.Column("made_on", sa.Date(), nullable=False),
        _text("currency"),
        sa.Column("lines", sa.Text(), nullable=False),
        sa.Column("margin", sa.Text(), nullable=False),
        sa.Column("tax", sa.Text(), nullable=False),
        sa.Column("total", sa.Text(), nullable=False),
        sa.Column("valid_until", sa.Date()),
        _text("state"),
        _text("notes"),
        sa.ForeignKeyConstraint(["order"], ["orders.id"], name="fk_quotes_order"),
        sa.PrimaryKeyConstraint("id", name="pk_quotes"),
        sqlite_autoincrement=True,
    )
    op.create_index("ix_quotes_order", "quotes", ["order"])
    op.create_table(
        "sewing",
        _id(),
        _number("order"),
        _number("number"),
        sa.Column("made_at", sa.Text(), nullable=False),
        _text("by"),
        sa.Column("key", TEXT),
        _text("record"),
        sa.ForeignKeyConstraint(["order"], ["orders.id"], name="fk_sewing_order"),
        sa.PrimaryKeyConstraint("id", name="pk_sewing"),
        sa.UniqueConstraint("order", "key", name="uq_sewing_order_key"),
        sa.UniqueConstraint("order", "number", name="uq_sewing_order_number"),
        sqlite_autoincrement=True,
    )
