"""Lists of orders begin with the first promised: read in that order, not sorted for every page."""

from alembic import op

revision = "0003"
down_revision = "0002"


def upgrade() -> None:
    """Add the index that the lists follow."""
    op.create_index("ix_orders_promised_id", "orders", ["promised", "id"])
