"""Database revisions, the same for SQLite and PostgreSQL."""
