"""What every answer tells the browser: load nothing from elsewhere, run nothing that stands in a page, no frames."""

from typing import Final

from starlette.datastructures import MutableHeaders

from fifthwire.web.settings import Settings

POLICY: Final = "; ".join(
    (
        "default-src 'none'",
        "script-src 'self'",
        "style-src 'self'",
        "img-src 'self'",
        "font-src 'self'",
        "connect-src 'self'",
        "form-action 'self'",
        "manifest-src 'self'",
        "base-uri 'none'",
        "frame-ancestors 'none'",
    )
)
"""Content security policy, level 3: no script and no style inside a page, nothing from other places."""
ALWAYS: Final[dict[str, str]] = {
    "Content-Security-Policy": POLICY,
    "X-Content-Type-Options": "nosniff",
    "X-Frame-Options": "DENY",
    "Referrer-Policy": "same-origin",  # `no-referrer` would make browsers send `Origin: null` with our own forms
    "Permissions-Policy": "camera=(), microphone=(), geolocation=(), payment=(), usb=(), serial=()",
    "Cross-Origin-Opener-Policy": "same-origin",
    "Cross-Origin-Resource-Policy": "same-origin",
}
REMEMBER_TLS: Final = "max-age=604800"
"""A week: an office that goes back to plain addresses is not locked out for long.  [s]  Our choice."""


def add_headers(headers: MutableHeaders, settings: Settings) -> None:
    """Add what an answer does not say itself.

    Parameters
    ----------
    headers : MutableHeaders
        Of the answer; changed in place.
    settings : Settings
        How the pages are served.
    """
    for name, value in ALWAYS.items():
        headers.setdefault(name, value)
    headers.setdefault("Cache-Control", "no-store" if settings.is_shared else "no-cache")
    if settings.is_secure:
        headers.setdefault("Strict-Transport-Security", REMEMBER_TLS)
