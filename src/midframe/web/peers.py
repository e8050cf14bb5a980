"""Who is at the other end of a request, and by which name this bench was called."""

from __future__ import annotations

import ipaddress
import re

from starlette.types import Scope

from midframe.web.settings import Settings

HOST = re.compile(r"(\[[0-9a-f:.]+\]|[a-z0-9_-]+(?:\.[a-z0-9_-]+)*)\.?(?::[0-9]{1,5})?")
"""A Host header: a name or an address, and perhaps a port."""

OWN_NAMES = ("127.0.0.1", "localhost", "[::1]")
"""What a machine calls itself."""


def host_name(header: str) -> str:
    """The name in a Host header, without its port; empty where it is no name.

    >>> host_name("Bench.local:8310"), host_name("[::1]:8310"), host_name("a b")
    ('bench.local', '[::1]', '')
    """
    found = HOST.fullmatch(header.lower())
    return found[1] if found else ""


def is_known(name: str, settings: Settings) -> bool:
    """Whether this bench answers to the name; a bare address cannot be turned to another machine."""
    return name in settings.hosts or (settings.share and is_address(name))


def is_address(name: str) -> bool:
    """Whether the name is an IP address that a machine can have.

    >>> is_address("192.168.1.20"), is_address("0.0.0.0"), is_address("bench.local")
    (True, False, False)
    """
    try:
        return not ipaddress.ip_address(name.strip("[]")).is_unspecified
    except ValueError:
        return False


def from_here(scope: Scope) -> bool:
    """Whether the other end of the connection is this machine, by its loopback."""
    client = scope.get("client")
    try:
        return client is not None and ipaddress.ip_address(client[0]).is_loopback
    except ValueError:
        return False
