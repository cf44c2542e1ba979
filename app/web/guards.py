"""What stands around every answer: safe headers, and a ceiling on what is handed in."""

from __future__ import annotations

from starlette.datastructures import MutableHeaders
from starlette.responses import PlainTextResponse
from starlette.types import ASGIApp, Message, Receive, Scope, Send

LARGEST_UPLOAD = 64 * 1024 * 1024
"""Ceiling on the body of a request [bytes]; a workbook of 100,000 rows stays below it."""

_POLICY = (
    "default-src 'none'",
    "script-src 'self'",
    "style-src 'self'",
    "img-src 'self' data: blob:",
    "font-src 'self'",
    "connect-src 'self'",
    "worker-src 'self'",
    "manifest-src 'self'",
    "form-action 'self'",
    "base-uri 'none'",
    "frame-ancestors 'none'",
)
"""No script and no style but our own files: nothing that stands in a page can run."""

HEADERS = {
    "content-security-policy": "; ".join(_POLICY),
    "x-content-type-options": "nosniff",
    "referrer-policy": "same-origin",
    "cross-origin-opener-policy": "same-origin",
    "cross-origin-resource-policy": "same-origin",
    "permissions-policy": "geolocation=(), microphone=(), payment=(), usb=()",
}
_HSTS = "max-age=31536000"


class SafeHeaders:
    """Puts the safe headers on every answer; pages are kept nowhere, own files till they change."""

    def __init__(self, app: ASGIApp, *, secure: bool) -> None:
        self.app, self.secure = app, secure

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer one request."""

        async def sending(message: Message) -> None:
            if message["type"] == "http.response.start":
                headers = MutableHeaders(scope=message)
                for name, value in HEADERS.items():
                    headers.setdefault(name, value)
                kept = scope["path"].startswith("/static/")
                headers.setdefault("cache-control", "no-cache" if kept else "no-store")
                if self.secure:
                    headers.setdefault("strict-transport-security", _HSTS)
            await send(message)

        await self.app(scope, receive, sending)


class UploadCeiling:
    """Refuses a request whose body is larger than the ceiling, said or not said beforehand."""

    def __init__(self, app: ASGIApp, *, ceiling: int = LARGEST_UPLOAD) -> None:
        self.app, self.ceiling = app, ceiling

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer one request."""
        if scope["type"] != "http":
            await self.app(scope, receive, send)
            return
        said = dict(scope["headers"]).get(b"content-length", b"0")
        if said.isdigit() and int(said) > self.ceiling:
            await self._refuse(scope, receive, send)
            return
        received, started = 0, False

        async def receiving() -> Message:
            nonlocal received
            message = await receive()
            received += len(message.get("body", b""))
            if received > self.ceiling:
                raise _TooLargeError
            return message

        async def sending(message: Message) -> None:
            nonlocal started
            started = True
            await send(message)

        try:
            await self.app(scope, receiving, sending)
        except _TooLargeError:
            if started:
                raise
            await self._refuse(scope, receive, send)

    async def _refuse(self, scope: Scope, receive: Receive, send: Send) -> None:
        words = f"What was handed in is larger than {self.ceiling // 1024 // 1024} MB. Send less."
        await PlainTextResponse(words, 413)(scope, receive, send)


class _TooLargeError(Exception):
    """More came in than the ceiling allows."""
