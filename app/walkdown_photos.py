"""The photo store: a folder of pictures by their hash, and photos sorted to rows by number."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import datetime
from pathlib import Path

from importers.walkdown_photos import KeptPhoto, kept_photo, number_in, numbers_written
from supports.database import Register
from supports.errors import BadInput
from supports.operations.walkdowns.photos import PhotoFacts, attach_photos
from supports.queries.walkdowns.lookups import campaign_of
from supports.queries.walkdowns.rows import walked_rows
from supports.rules.walkdown.words import PhotoSubject
from supports.vocabulary import counted

PICTURES = frozenset({".jpg", ".jpeg", ".png", ".webp", ".tif", ".tiff"})


def small_copies(store: Path | None, hashes: Iterable[str]) -> dict[str, bytes]:
    """Return the small copies that are there, by the hash of their photo."""
    if store is None:
        return {}
    paths = {one: small_path(photo_path(store, one)) for one in hashes}
    return {one: path.read_bytes() for one, path in paths.items() if path.is_file()}


def keep(store: Path, photo: KeptPhoto) -> Path:
    """Write a photo and its small copy under its hash; what is there is not written again."""
    path = photo_path(store, photo.content_hash)
    path.parent.mkdir(parents=True, exist_ok=True)
    for target, data in ((path, photo.content), (small_path(path), photo.small)):
        if not target.is_file():
            target.write_bytes(data)
    return path


def photo_path(store: Path, content_hash: str) -> Path:
    """Return where a photo lies."""
    return store / content_hash[:2] / f"{content_hash}.jpg"


def small_path(path: Path) -> Path:
    """Return where the small copy of a photo lies."""
    return path.with_suffix(".small.jpg")


def take_photos(
    register: Register, number: str, folder: Path, store: Path | None, *, acting: str,
    now: datetime, keep_place: str = "",
) -> Iterator[str]:  # fmt: skip
    """Put the pictures of a folder to the rows that name their numbers; tell what is left over.

    Parameters
    ----------
    keep_place
        Why the places where they were taken are kept in them; '' keeps none.

    Raises
    ------
    BadInput
        The register is no file and no folder for photos is named, or the pictures' is not there.
    """
    if store is None:
        raise BadInput(
            "photos need a folder", remedy="Name it with --store, or for good in SUPPORTS_PHOTOS"
        )
    if not folder.is_dir():
        raise BadInput("this is not a folder of pictures", where=str(folder))
    wanted = _wanted(register, number)
    facts: list[PhotoFacts] = []
    placed = 0
    for path in sorted(p for p in folder.iterdir() if p.suffix.lower() in PICTURES):
        found = number_in(path.name)
        if found is None or found not in wanted:
            yield f"{path.name}: no row names this number; not taken"
            continue
        photo = kept_photo(path.name, path.read_bytes(), with_place=bool(keep_place))
        placed += photo.has_place
        keep(store, photo)
        item, subject = wanted.pop(found)
        facts.append(
            PhotoFacts(
                item_id=item,
                number=str(found),
                subject=subject,
                content_hash=photo.content_hash,
                file_name=path.name,
                width=photo.width,
                height=photo.height,
            )
        )
    new = attach_photos(register, facts, acting=acting, now=now, place_kept=keep_place)
    belong = "belongs" if len(facts) == 1 else "belong"
    yield f"{counted(len(facts), 'photo')} {belong} to rows, {new} of them new."
    if keep_place:
        yield f"The place where it was taken is kept in {placed} of them."
    for left in sorted(wanted):
        yield f"photo {left} is named on the form, but no picture bears that number"


def _wanted(register: Register, number: str) -> dict[int, tuple[int, str]]:
    order = list(PhotoSubject)
    wanted: dict[int, tuple[int, str]] = {}
    with register.reading() as session:
        for row in walked_rows(session, campaign_of(session, number)):
            for place, photo in enumerate(numbers_written(row.found.photos)):
                wanted[photo] = (row.item.id, str(order[min(place, len(order) - 1)]))
    return wanted
