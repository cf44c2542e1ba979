"""A small sign-in service that speaks OpenID Connect, for the tests of the desk."""

from __future__ import annotations

import base64
import hashlib
from dataclasses import dataclass, field
from datetime import UTC
from typing import Any
from urllib.parse import urlencode

from fastapi import FastAPI, Request
from joserfc import jwt
from joserfc.jwk import KeySet, RSAKey
from starlette.responses import JSONResponse, RedirectResponse, Response

from tests.operations.days import START

CLIENT, SECRET = "the desk", "secret of the desk"
NOW = int(START.replace(tzinfo=UTC).timestamp())


@dataclass
class Provider:
    """What the service says next; tests make it lie."""

    issuer: str = ""
    subject: str = "person-7"
    claims: dict[str, Any] = field(default_factory=dict)
    key: RSAKey = field(default_factory=lambda: RSAKey.generate_key(2048, {"kid": "one"}))
    signs_with: RSAKey | None = None
    codes: dict[str, dict[str, str]] = field(default_factory=dict)

    def id_token(self, nonce: str) -> str:
        """Return the signed word of who signed in."""
        said = {
            "iss": self.issuer, "aud": CLIENT, "sub": self.subject, "nonce": nonce,
            "iat": NOW, "exp": NOW + 300,
        } | self.claims  # fmt: skip
        kept = {name: value for name, value in said.items() if value is not None}
        return jwt.encode({"alg": "RS256", "kid": "one"}, kept, self.signs_with or self.key)


def provider_app(provider: Provider) -> FastAPI:
    """Return the service."""
    app = FastAPI()

    @app.get("/.well-known/openid-configuration")
    def described() -> dict[str, str]:
        at = provider.issuer
        return {
            "issuer": at, "authorization_endpoint": f"{at}/authorize",
            "token_endpoint": f"{at}/token", "jwks_uri": f"{at}/keys",
        }  # fmt: skip

    @app.get("/keys")
    def keys() -> dict[str, Any]:
        return KeySet([provider.key]).as_dict(private=False)

    @app.get("/authorize")
    def authorize(request: Request) -> Response:
        asked = dict(request.query_params)
        code = f"code-{len(provider.codes)}"
        provider.codes[code] = asked
        back = urlencode({"code": code, "state": asked["state"]})
        return RedirectResponse(f"{asked['redirect_uri']}?{back}", 303)

    @app.post("/token")
    async def token(request: Request) -> Response:
        form = dict(await request.form())
        asked = provider.codes.pop(str(form["code"]), None)
        basic = base64.b64encode(f"{CLIENT}:{SECRET}".encode()).decode()
        digest = hashlib.sha256(str(form["code_verifier"]).encode()).digest()
        challenge = base64.urlsafe_b64encode(digest).rstrip(b"=").decode()
        known = request.headers.get("authorization") == f"Basic {basic}"
        if asked is None or not known or asked["code_challenge"] != challenge:
            return JSONResponse({"error": "invalid_grant"}, 400)
        return JSONResponse(
            {
                "access_token": "unused", "token_type": "Bearer",
                "id_token": provider.id_token(asked["nonce"]),
            }
        )  # fmt: skip

    return app
