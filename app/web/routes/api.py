"""The beginning of the machine interface: who a token acts for, and what it may do."""

from __future__ import annotations

from fastapi import APIRouter

from app.web.tokens import Program

router = APIRouter(prefix="/api/v1")


@router.get("/token")
def token(visit: Program) -> dict[str, object]:
    """Say who the token acts for, with which roles today, within which scope."""
    return {
        "person": visit.acting,
        "roles": sorted(map(str, visit.roles)),
        "scope": visit.account.scope if visit.account else "",
    }
