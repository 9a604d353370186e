"""Where a request comes from: the address that was asked, the page that asked, the machine behind it."""

import ipaddress
from typing import Final
from urllib.parse import urlsplit

from fastapi import Request

from fifthwire.web.settings import LOCAL_HOSTS, Settings

OWN_SITE: Final = ("same-origin", "none")
"""What browsers say in `Sec-Fetch-Site` of a request that no other site has caused."""
IPV6_NETWORK: Final = 64
"""Bits that one customer's machines share: one of them may take any address below.  Common practice."""


def is_served(host: str, settings: Settings) -> bool:
    """Whether the name or address that was asked for is one of ours.

    A page of another site whose name is made to lead here (DNS rebinding) would else read what is kept.

    Examples
    --------
    >>> is_served("localhost:8470", Settings()), is_served("elsewhere.example", Settings())
    (True, False)
    """
    names = settings.hosts or (() if settings.is_shared else LOCAL_HOSTS)
    return not names or _name_of(host) in names


def _name_of(host: str) -> str:
    """The name in a `Host` header, without its port and without the brackets of an IPv6 address."""
    try:
        return (urlsplit(f"//{host}").hostname or "").rstrip(".")
    except ValueError:
        return ""


def comes_from_us(request: Request) -> bool | None:
    """Whether a page of ours caused the request; None where it does not say: only programs that are no browsers."""
    origin = request.headers.get("origin")
    if origin is not None:
        return urlsplit_or_empty(origin) == request.headers.get("host", "").lower()
    site = request.headers.get("sec-fetch-site")
    return None if site is None else site in OWN_SITE


def urlsplit_or_empty(origin: str) -> str:
    """Host and port of an origin; empty where it is none (`null`)."""
    try:
        return urlsplit(origin).netloc.lower()
    except ValueError:
        return ""


def address_of(request: Request) -> str:
    """What wrong passwords are counted by: the IPv4 address, of an IPv6 address its network.

    A proxy's word for who is behind it is not taken: anybody could send that.
    """
    host = request.client.host if request.client else ""
    try:
        address = ipaddress.ip_address(host.partition("%")[0])
    except ValueError:
        return host[:100] or "unknown"
    if isinstance(address, ipaddress.IPv6Address):
        mapped = address.ipv4_mapped
        return str(mapped or ipaddress.ip_network((int(address), IPV6_NETWORK), strict=False))
    return str(address)


def local_path(given: str) -> str:
    """A path of ours to go on to after signing in; the first page where it would lead elsewhere.

    Examples
    --------
    >>> local_path("/sites?page=2"), local_path("//elsewhere.example/"), local_path("https://elsewhere.example/")
    ('/sites?page=2', '/', '/')
    """
    is_ours = given.startswith("/") and not given.startswith(("//", "/\\")) and given.isprintable()
    return given if is_ours and "\\" not in given and len(given) < 2000 else "/"
