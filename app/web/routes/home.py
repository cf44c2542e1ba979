"""What waits for whoever is signed in."""

from __future__ import annotations

from fastapi import APIRouter
from starlette.responses import Response

from app.web.visits import Signed
from supports.queries.waiting import waiting_for

router = APIRouter()


@router.get("/")
def home(visit: Signed) -> Response:
    """Show what waits for the visitor, then what else is open."""
    names = {visit.acting, visit.account.initials if visit.account else ""} - {""}
    with visit.gathering() as session:
        waiting = waiting_for(session, names, visit.roles, visit.today)
    return visit.page("home.html.jinja", waiting=waiting)
