"""Sign-in by the site's own service, by OpenID Connect: code flow with PKCE, state and nonce.

OpenID Connect Core 1.0, section 3.1; RFC 7636. What comes back is believed only if it is signed by
the service, meant for this desk, of this moment, and asked for by this very browser.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, datetime
from typing import Any, cast

import httpx
from authlib.integrations.httpx_client import OAuth2Client
from joserfc import jwt
from joserfc.errors import JoseError
from joserfc.jwk import KeySet

from supports.errors import NotAllowed, SupportsError

PATIENCE = 10.0
"""How long the service may take to answer [s]."""
SIGNED_BY = ["RS256", "ES256", "PS256"]
LEEWAY = 60
"""How far the clocks of service and desk may be apart [s]; common practice, no source."""


@dataclass(frozen=True, slots=True)
class OutsideService:
    """The site's sign-in service and how the desk is known there."""

    issuer: str
    client: str
    secret: str


@dataclass(frozen=True, slots=True)
class Errand:
    """What a browser was sent to the service with; it brings all of it back in its own cookie."""

    state: str
    nonce: str
    verifier: str


def errand_address(service: OutsideService, errand: Errand, back: str) -> str:
    """Return where the browser is sent to."""
    with _client(service, back) as client:
        address, _ = client.create_authorization_url(
            _described(service)["authorization_endpoint"], state=errand.state, nonce=errand.nonce,
            code_verifier=errand.verifier,
        )  # fmt: skip
    return str(address)


def name_brought_back(
    service: OutsideService, errand: Errand, back: str, code: str, now: datetime
) -> str:
    """Return issuer and subject of whoever signed in at the service.

    Raises
    ------
    NotAllowed
        What the service says cannot be believed.
    """
    described = _described(service)
    try:
        with _client(service, back) as client:
            token = client.fetch_token(
                described["token_endpoint"], code=code, code_verifier=errand.verifier
            )
        keys = KeySet.import_key_set(cast("Any", _asked(described["jwks_uri"])))
        said = jwt.decode(str(token.get("id_token", "")), keys, algorithms=SIGNED_BY).claims
        _claims(service, errand, now).validate(said)
    except (JoseError, ValueError) as error:
        raise _not_believed(str(error)) from error
    except SupportsError:
        raise
    except Exception as error:
        raise _not_believed(type(error).__name__) from error
    return f"{service.issuer} {said['sub']}"


def _claims(service: OutsideService, errand: Errand, now: datetime) -> jwt.JWTClaimsRegistry:
    return jwt.JWTClaimsRegistry(
        now=int(now.replace(tzinfo=UTC).timestamp()),
        leeway=LEEWAY,
        iss={"essential": True, "value": service.issuer},
        aud={"essential": True, "value": service.client},
        nonce={"essential": True, "value": errand.nonce},
        sub={"essential": True},
        exp={"essential": True},
    )


def _client(service: OutsideService, back: str) -> Any:
    return OAuth2Client(
        service.client, service.secret, scope="openid", redirect_uri=back,
        code_challenge_method="S256", timeout=PATIENCE,
    )  # fmt: skip


def _described(service: OutsideService) -> dict[str, str]:
    """Return what the service says of itself; its issuer must be the one that was named."""
    described = _asked(f"{service.issuer.rstrip('/')}/.well-known/openid-configuration")
    if described.get("issuer") != service.issuer:
        raise _not_believed("it names another issuer")
    return described


def _asked(address: str) -> dict[str, Any]:
    try:
        answer = httpx.get(address, timeout=PATIENCE)
        answer.raise_for_status()
        said: dict[str, Any] = answer.json()
    except (httpx.HTTPError, ValueError) as error:
        raise SupportsError(
            "the site's sign-in service does not answer as it should",
            found=type(error).__name__,
            remedy="Sign in with a password, or tell whoever runs the service",
        ) from error
    return said


def _not_believed(found: str) -> NotAllowed:
    return NotAllowed(
        "what the site's sign-in service says cannot be believed", found=found,
        remedy="Begin the sign-in again",
    )  # fmt: skip
