"""What a JPEG file carries besides its pixels, told by the markers of its segments."""

from __future__ import annotations

from midframe.faults import BadPhoto

START, END, SCAN = 0xD8, 0xD9, 0xDA
RESTARTS = range(0xD0, 0xD8)
STUFFED = 0x00
NOT_FRAMES = (0xC4, 0xC8, 0xCC)
"""Markers between 0xC0 and 0xCF that begin no frame: Huffman table, reserved, arithmetic coding."""

NAMES = (
    (0xC4, "huffman"),
    (0xDB, "quantisation"),
    (0xDD, "restart interval"),
    (0xDA, "scan"),
    (0xFE, "comment"),
)

PICTURE_ONLY = frozenset({"start", "jfif", "quantisation", "huffman", "frame", "scan", "end"})
"""The segments that a picture needs; whatever else is there is metadata, or a picture inside the picture."""


def segments(data: bytes) -> tuple[str, ...]:
    """Names of the segments of a JPEG in their order, each application segment with its number.

    Bytes behind the end are told as `trailing bytes`.

    Raises
    ------
    BadPhoto
        When this is no JPEG, or one that breaks off.

    Examples
    --------
    >>> from midframe.photos import clean, segments
    >>> tiny = bytes.fromhex(
    ...     "89504e470d0a1a0a0000000d494844520000000100000001080200000090"
    ...     "7753de0000000c4944415408d763f8ffff3f0005fe02fe0def46b80000000049454e44ae426082")
    >>> sorted(set(segments(clean(tiny).full)))
    ['end', 'frame', 'huffman', 'jfif', 'quantisation', 'scan', 'start']

    References
    ----------
    [itu-t81, B.1.1.3 and table B.1] for the markers; [itu-t871, clause 10.1] for the segment of JFIF.
    """
    if data[:2] != b"\xff\xd8":
        raise BadPhoto("photo: found no JPEG; right: a file that begins with the marker of a JPEG")
    found, at = ["start"], 2
    while True:
        marker, at = next_marker(data, at)
        if marker == END:
            found.append("end")
            break
        length = int.from_bytes(data[at : at + 2], "big")
        if length < 2 or at + length > len(data):
            raise BadPhoto(f"photo: found a JPEG that breaks off at byte {at}; right: the whole file")
        found.append(name_of(marker, data[at + 2 : at + length]))
        at += length
        if marker == SCAN:
            at = behind_scan(data, at)
    return (*found, "trailing bytes") if data[at:] else tuple(found)


def next_marker(data: bytes, at: int) -> tuple[int, int]:
    """The marker at this place and the place behind it; fill bytes before it are passed over."""
    if at >= len(data) or data[at] != 0xFF:
        raise BadPhoto(f"photo: found a JPEG that breaks off at byte {at}; right: the whole file")
    while at < len(data) and data[at] == 0xFF:
        at += 1
    if at >= len(data):
        raise BadPhoto(f"photo: found a JPEG that breaks off at byte {at}; right: the whole file")
    return data[at], at + 1


def behind_scan(data: bytes, at: int) -> int:
    """The place of the first marker behind the coded pixels."""
    while True:
        at = data.find(b"\xff", at)
        if at < 0 or at + 1 >= len(data):
            raise BadPhoto("photo: found a JPEG that breaks off within its pixels; right: the whole file")
        if data[at + 1] != STUFFED and data[at + 1] not in RESTARTS:
            return at
        at += 2


def name_of(marker: int, content: bytes) -> str:
    """The name of a segment by its marker and, for the first application segment, by its content."""
    if marker == 0xE0 and content.startswith(b"JFIF\x00"):
        # A thumbnail may hide in this segment: its last two bytes before it are width and height.
        return "jfif" if len(content) == 14 else "jfif with a thumbnail"
    if 0xE0 <= marker <= 0xEF:
        return f"application {marker - 0xE0}"
    if 0xC0 <= marker <= 0xCF and marker not in NOT_FRAMES:
        return "frame"
    return dict(NAMES).get(marker, f"marker {marker:02x}")
