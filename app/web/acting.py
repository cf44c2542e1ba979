"""The page of an act: its form given out, handed in, and given back with what was typed."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from starlette.datastructures import FormData
from starlette.responses import RedirectResponse, Response

from app.possible import Possible
from app.web.acts.asking import Act, Said, Where
from app.web.troubles import status_of
from app.web.visits import Visit
from supports.errors import Conflict, NotFound, SupportsError
from supports.freezing import fingerprint, short


@dataclass(frozen=True, slots=True)
class Subject:
    """What an act is about, as its page says it.

    Parameters
    ----------
    name, stands
        What people call it, and where it stands.
    back
        Address of its own page.
    seen
        Parts with their fingerprints: what somebody signs, or writes over.
    """

    name: str
    where: Where
    back: str
    about: str = ""
    stands: str = ""
    possible: Sequence[Possible] = ()
    seen: Mapping[str, str] = field(default_factory=dict)
    always: bool = False
    """The act can be done at any time by anybody who holds a role."""

    @property
    def mark(self) -> str:
        """Return the mark of all that a signature covers, as it is kept with it."""
        return short(fingerprint(dict(self.seen)))


def act_of(acts: Sequence[Act], dashed: str) -> Act:
    """Return an act by its word in an address."""
    found = next((act for act in acts if act.dashed == dashed), None)
    if found is None:
        raise NotFound("there is no such act", found=dashed)
    return found


def offered(subject: Subject, act: Act) -> Possible | None:
    """Return how an act is possible now; None if it is not."""
    if subject.always:
        return Possible(act.key)
    return next((one for one in subject.possible if one.act == act.key), None)


def act_page(visit: Visit, act: Act, subject: Subject) -> Response:
    """Give out the form of an act."""
    return _page(visit, act, subject, Said.empty())


def _page(
    visit: Visit, act: Act, subject: Subject, said: Said, error: SupportsError | None = None
) -> Response:
    with visit.reading() as session:
        asks = act.asks(session, subject.where, visit)
    words: dict[str, Any] = {"act": act, "subject": subject, "asks": asks, "said": said}
    return visit.page(
        "act.html.jinja", status_of(error) if error else 200, error=error,
        offered=offered(subject, act), meanwhile=isinstance(error, Conflict),
        typed=bool(len(said.form)), **words,
    )  # fmt: skip


def act_done(visit: Visit, act: Act, subject: Subject, form: FormData) -> Response:
    """Call the use case; what is refused comes back with the form as it was filled in."""
    said = Said(form)
    try:
        return RedirectResponse(act.run(visit, subject.where, said), 303)
    except SupportsError as error:
        return _page(visit, act, subject, said, error)
