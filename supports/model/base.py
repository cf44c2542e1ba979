"""What every table shares: named constraints, column types, row versions."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, datetime
from typing import Annotated, Any, ClassVar

from sqlalchemy import (
    JSON,
    Date,
    DateTime,
    Double,
    ForeignKey,
    Index,
    Integer,
    MetaData,
    Table,
    Text,
    UniqueConstraint,
    text,
)
from sqlalchemy.dialects.postgresql import JSONB
from sqlalchemy.orm import DeclarativeBase, Mapped, declared_attr, mapped_column

NAMES = {
    "pk": "pk_%(table_name)s",
    "fk": "fk_%(table_name)s_%(column_0_name)s_%(referred_table_name)s",
    "uq": "uq_%(table_name)s_%(column_0_N_name)s",
    "ix": "ix_%(table_name)s_%(column_0_N_name)s",
    "ck": "ck_%(table_name)s_%(constraint_name)s",
}

Json = JSON().with_variant(JSONB(), "postgresql")
PlainJson = JSON()
"""For documents that no query looks into: PostgreSQL keeps the text, which costs it far less."""

Key = Annotated[int, mapped_column(Integer, primary_key=True, autoincrement=True)]
Words = Annotated[str, mapped_column(Text)]
"""Text that must be there; no length limit, so that both databases take the same."""
MaybeWords = Annotated[str | None, mapped_column(Text)]
Note = Annotated[str | None, mapped_column(Text)]
Day = Annotated[date, mapped_column(Date)]
MaybeDay = Annotated[date | None, mapped_column(Date)]
Moment = Annotated[datetime, mapped_column(DateTime(timezone=False))]
"""A moment in UTC, stored without zone on both databases."""
MaybeMoment = Annotated[datetime | None, mapped_column(DateTime(timezone=False))]
Document = Annotated[dict[str, Any], mapped_column(Json)]
MaybeDocument = Annotated[dict[str, Any] | None, mapped_column(Json)]
MaybeList = Annotated[list[Any] | None, mapped_column(Json)]


class Base(DeclarativeBase):
    """The register's tables."""

    append_only: ClassVar[bool] = False
    """Rows are added, never changed and never deleted; triggers see to it."""
    off_record: ClassVar[bool] = False
    """Rows are secrets or pass away: they leave no trail, and only such rows may be deleted."""

    metadata = MetaData(naming_convention=NAMES)
    type_annotation_map: ClassVar[dict[Any, Any]] = {float: Double()}

    def __init_subclass__(cls, **options: Any) -> None:
        """Make the table; each of its foreign keys can be looked up by."""
        super().__init_subclass__(**options)
        _index_foreign_keys(cls.metadata.tables[cls.__tablename__])


def _index_foreign_keys(table: Table) -> None:
    """Give a foreign key an index, unless another one serves as it begins with the same column."""
    begun = _beginnings(table)
    for column in table.columns:
        if column.foreign_keys and column.name not in begun:
            Index(None, column)


def _beginnings(table: Table) -> set[str]:
    """Return the columns that a key or an index of all rows begins with."""
    unique = [each for each in table.constraints if isinstance(each, UniqueConstraint)]
    full = [each for each in table.indexes if not PARTIAL.intersection(each.dialect_kwargs)]
    keys = {key.columns[0].name for key in (table.primary_key, *unique)}
    return keys.union(index.columns[0].name for index in full)


PARTIAL = frozenset({"sqlite_where", "postgresql_where"})
"""Options of an index that holds some rows only: a foreign key is not looked up by it."""

FOLLOWS = "follows"
"""In a column's `info`: the column of its row that it follows from, and how."""


def follows(column: str, how: Callable[[str], str]) -> Any:
    """Return a column whose text follows from another's, which is never changed once stored.

    Both databases sort it by code point. What follows is no news: the trail does not record it.
    """
    return mapped_column(
        Text().with_variant(Text(collation="C"), "postgresql"),
        default=lambda context: how(context.get_current_parameters()[column]),
        server_default=text("''"),
        info={FOLLOWS: (column, how)},
    )


BY_MARK = "by mark"
"""In a column's `info`: the trail keeps the hash of its document, not the document itself.

It is for documents that are large and many, in rows that are never changed once stored.
"""


def key_of(table: str, *, unique: bool = False) -> Any:
    """Return a foreign key to `table`; its table sees to an index."""
    return mapped_column(ForeignKey(f"{table}.id"), unique=unique or None)


class Versioned:
    """A row that two people may want to change: the later writer is told."""

    row_version: Mapped[int] = mapped_column(Integer, nullable=False, default=1)

    @declared_attr.directive
    def __mapper_args__(cls) -> dict[str, Any]:  # noqa: N805  SQLAlchemy hands in the class
        """Let SQLAlchemy count and compare the version."""
        return {"version_id_col": cls.__dict__.get("row_version", cls.row_version)}
