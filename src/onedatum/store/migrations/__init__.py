"""The steps from one form of the tables to the next, carried out by alembic when a store is opened."""
