"""Names and addresses of this machine on the bench network; nothing is sent to find them."""

from __future__ import annotations

import ipaddress
import socket
import struct
from contextlib import closing, suppress

TRIED = ("10.255.255.254", "172.31.255.254", "192.168.255.254", "198.51.100.1")
"""Private networks, and one address that no machine has; only the way there is looked up."""

SIOCGIFADDR = 0x8915
"""Asks Linux for the address of an interface (netdevice(7))."""


def names() -> tuple[str, ...]:
    """What this machine is called on its network: its name, and that name with `.local`."""
    name = socket.gethostname().lower().rstrip(".")
    short = name.partition(".")[0]
    return tuple(dict.fromkeys(one for one in (name, f"{short}.local") if short and short != "localhost"))


def network_addresses() -> tuple[str, ...]:
    """IPv4 addresses of this machine that others may reach; private ones first, loopback never."""
    found = {*interface_addresses(), *route_addresses()}
    usable = [one for one in map(ipaddress.ip_address, found) if not (one.is_loopback or one.is_unspecified)]
    return tuple(
        str(one) for one in sorted(usable, key=lambda one: (one.is_link_local, not one.is_private, one))
    )


def route_addresses() -> set[str]:
    """The own addresses that the system would use to reach other networks."""
    found = set()
    for target in TRIED:
        with closing(socket.socket(socket.AF_INET, socket.SOCK_DGRAM)) as probe, suppress(OSError):
            probe.connect((target, 9))
            found.add(probe.getsockname()[0])
    return found


def interface_addresses() -> set[str]:
    """The address of every interface, where the system tells (Linux)."""
    try:
        import fcntl
    except ImportError:
        return set()
    found = set()
    with closing(socket.socket(socket.AF_INET, socket.SOCK_DGRAM)) as probe:
        for _, name in socket.if_nameindex():
            asked = struct.pack("256s", name.encode()[:15])
            with suppress(OSError):
                found.add(socket.inet_ntoa(fcntl.ioctl(probe.fileno(), SIOCGIFADDR, asked)[20:24]))
    return found
