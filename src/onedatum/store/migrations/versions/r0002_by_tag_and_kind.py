"""Records of a tag and of a kind are found without reading all: a tag has some ten of perhaps many thousands."""

from __future__ import annotations

from alembic import op

revision = "0002"
down_revision = "0001"


def upgrade() -> None:
    """Make the two indexes."""
    op.create_index("onedatum_records_tag", "onedatum_records", ["tag", "id"])
    op.create_index("onedatum_records_kind", "onedatum_records", ["kind", "id"])
