"""SQLAlchemy tables by subject; they know no arithmetic."""
