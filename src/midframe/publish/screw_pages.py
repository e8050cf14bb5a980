"""The screw sheet drawn: a page for every tile of the plan, the list, the labels of trays and bags."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from textwrap import wrap
from typing import Literal, TypeAlias

from midframe.dossier.trays import Tray
from midframe.publish.labels import Box
from midframe.publish.language import Language, language
from midframe.publish.paper import (
    MARGIN_MM,
    UPRIGHT_BAR_MM,
    Paper,
    calibration,
    cross,
    html_pages,
    line,
    qr_path,
    shape,
    svg_page,
    words,
)
from midframe.publish.screw_sheet import FOOT_MM, HEAD_MM, OVERLAP_MM, ScrewSheet, Tile, room_mm
from midframe.publish.spots import ADVANCE, beside
from midframe.publish.svg import cut
from midframe.screws import Group, Kind

TEXT_MM = 2.2
"""Height of the texts beside holes."""

ASIDE_MM = 4.5
"""How far a text may stand out of the plan to the left and right."""

LIST_MM = 62.0
"""Width of the list beside the plan."""

ROW_MM = 3.6
"""Height of a row of the list."""

LABEL_MM = (60.0, 27.0)
"""Width and height of a label."""

LABEL_LINES, LABEL_SIGNS = 5, 29
"""Lines under the device on a label, and signs in a line beside the code."""

Which: TypeAlias = Literal["all", "with screws", "none"]
"""Which labels are printed."""


def sheet_svg(sheet: ScrewSheet) -> tuple[str, ...]:
    """The pages of the sheet, each as SVG whose units are millimetres on paper."""
    pages = [tile_page(sheet, tile) for tile in sheet.tiles]
    return (*pages, *list_pages(sheet))


def sheet_html(sheets: Sequence[ScrewSheet], *, link: str = "", labels: Which = "all") -> str:
    """Sheets of the sides of a device, then the labels of its trays, as one HTML file to print.

    `link` is the address that opens the record; labels carry it as a QR code.
    """
    first = sheets[0]
    pages = [page for sheet in sheets for page in sheet_svg(sheet)]
    if labels != "none":
        pages += label_pages(first, link, labels)
    title = language(first.language).say("screw-sheet", device=first.device)
    return html_pages(first.paper, title, pages, first.language)


def list_fits(sheet: ScrewSheet) -> bool:
    """Whether the list stands beside the plan: one tile, and room to its right and below."""
    wide, high = room_mm(sheet.paper)
    rows = len(list_rows(sheet))
    room = high - UPRIGHT_BAR_MM if len(sheet.tiles) == 1 else 0
    return len(sheet.tiles) == 1 and wide - sheet.size_mm[0] - 6 >= LIST_MM and rows * ROW_MM <= room


def head(sheet: ScrewSheet, part: str) -> str:
    """Title and what the page is, above the plan."""
    say = language(sheet.language).say
    as_seen = sheet.mirrored == (sheet.side == "back")
    title = say("screw-seen" if as_seen else "screw-mirrored", device=sheet.device, side=sheet.side)
    left, top = MARGIN_MM, MARGIN_MM
    drawn = words(left, top + 4, cut(title, 70), 4.2, strong=True)
    told = [say("screw-invented")] if sheet.invented else []
    told += [say("screw-explained"), part]
    drawn += words(left, top + 8, " ".join(told).rstrip(), 2.5)
    right = sheet.paper.width_mm - MARGIN_MM
    record = say("running-record", digest=sheet.digest[:12])
    return drawn + words(right, top + 8, record, 2.2, anchor="end")


def tile_page(sheet: ScrewSheet, tile: Tile) -> str:
    """One page of the plan."""
    many, say = len(sheet.tiles), language(sheet.language).say
    number = sheet.tiles.index(tile) + 1
    part = say("screw-tiles", page=number, pages=many) if many > 1 else ""
    content = [head(sheet, part), calibration(sheet.paper, sheet.language), plan(sheet, tile)]
    if many > 1:
        content.append(joining(sheet, tile))
    elif list_fits(sheet):
        content.append(listed(sheet, MARGIN_MM + sheet.size_mm[0] + 6, MARGIN_MM + HEAD_MM))
    return svg_page(sheet.paper, say("screw-sheet-page", device=sheet.device, page=number), content)


def plan(sheet: ScrewSheet, tile: Tile) -> str:
    """Outline, covers, holes and their texts in the window of a tile."""
    left, top = sheet.on_page(tile, tile.left_mm, tile.top_mm)
    edge = 0.2  # half a line and more, so that the outline is not cut along its middle
    window = shape(
        "rect", x=left - edge, y=top - edge, width=tile.width_mm + 2 * edge, height=tile.height_mm + 2 * edge
    )
    name = f"window-{sheet.side}-{tile.row}-{tile.column}"
    drawn = [shape("defs", shape("clipPath", window, id=name))]
    behind = [polygon(sheet, tile, points) for points in sheet.parts_mm]
    if sheet.outline_mm is not None:
        x, y, wide, high = sheet.outline_mm
        at_x, at_y = sheet.on_page(tile, x, y)
        behind.append(shape("rect", x=at_x, y=at_y, width=wide, height=high, class_="line"))
    drawn.append(shape("g", "".join(behind), clip_path=f"url(#{name})") if behind else "")
    shown = [hole for hole in sheet.holes if sheet.shows(tile, hole.x_mm, hole.y_mm)]
    placed = [(*sheet.on_page(tile, hole.x_mm, hole.y_mm), hole) for hole in shown]
    right, foot = left + max(tile.width_mm, 30), top + tile.height_mm
    room = Box(left - ASIDE_MM, top - 2, right + ASIDE_MM, foot + 2)
    point = language(sheet.language).point
    marked = [(x, y, hole.radius_mm + 0.3, hole.text.replace(".", point)) for x, y, hole in placed]
    texts = beside(marked, room, TEXT_MM)
    for text in texts:
        if text.leader:
            drawn.append(line(*text.hole, *text.end, "fine"))
    for x, y, hole in placed:
        class_ = "hole" if hole.order else "stays"
        drawn.append(shape("circle", cx=x, cy=y, r=hole.radius_mm, class_=class_))
        drawn.append(cross(x, y, hole.radius_mm + 0.4, "line" if hole.order else "fine"))
    drawn += [words(text.box.left, text.box.bottom - 0.4, text.text, TEXT_MM) for text in texts]
    return "".join(drawn)


def polygon(sheet: ScrewSheet, tile: Tile, points: Sequence[tuple[float, float]]) -> str:
    """An outline on the page."""
    placed = (sheet.on_page(tile, x, y) for x, y in points)
    return shape("polygon", points=" ".join(f"{x:.3f},{y:.3f}" for x, y in placed), class_="part")


def joining(sheet: ScrewSheet, tile: Tile) -> str:
    """Crosses in the overlaps, at the same places of the plan on both pages, and the line to cut along."""
    drawn = []
    for x, y in joints_of(sheet):
        if sheet.shows(tile, x, y):
            drawn.append(cross(*sheet.on_page(tile, x, y), 3.0))
    left, top = sheet.on_page(tile, tile.left_mm, tile.top_mm)
    drawn.append(shape("rect", x=left, y=top, width=tile.width_mm, height=tile.height_mm, class_="cut"))
    return "".join(drawn)


def joints_of(sheet: ScrewSheet) -> Iterator[tuple[float, float]]:
    """Places of the crosses on the plan: two in every overlap of neighbours."""
    for tile in sheet.tiles:
        if tile.column:
            x = tile.left_mm + OVERLAP_MM / 2
            yield from ((x, tile.top_mm + share * tile.height_mm) for share in (0.1, 0.9))
        if tile.row:
            y = tile.top_mm + OVERLAP_MM / 2
            yield from ((tile.left_mm + share * tile.width_mm, y) for share in (0.1, 0.9))


def list_rows(sheet: ScrewSheet) -> list[tuple[str, str, bool]]:
    """The rows of the list: left text, right text, whether it is a heading."""
    spoken = language(sheet.language)
    say = spoken.say
    rows: list[tuple[str, str, bool]] = [(say("screw-kinds"), "", True)]
    here: dict[str, int] = {}
    for entry in sheet.groups:
        here[entry.group.letter] = here.get(entry.group.letter, 0) + entry.group.count
    rows += [
        (f"{one.letter}  {kind_words(one.kind, spoken)}", f"{here[one.letter]}", False) for one in sheet.kinds
    ]
    rows.append((say("screw-order"), "", True))
    for entry in sheet.groups:
        order = f"{entry.order}" if entry.order else say("screw-stays")
        rows.append((f"{order}  {entry.cover}, {entry.group.letter}", f"{entry.group.count}", False))
        if entry.group.without_place:
            told = say("screw-without-place", count=entry.group.without_place)
            rows.append((f"    {told}", "", False))
    rows.append((say("screw-together", count=sum(e.group.count for e in sheet.groups)), "", True))
    if sheet.without_place:
        rows.append((say("screw-none-drawn", count=sheet.without_place), "", False))
    if sheet.other_side:
        rows.append((say("screw-other-side", count=sheet.other_side), "", False))
    return rows


def listed(sheet: ScrewSheet, x: float, y: float, rows: Sequence[tuple[str, str, bool]] | None = None) -> str:
    """The list, its top left corner at (x, y)."""
    drawn = []
    longest = int((LIST_MM - 5) / (ADVANCE * 2.4))
    for number, (text, count, strong) in enumerate(list_rows(sheet) if rows is None else rows):
        at = y + (number + 1) * ROW_MM
        drawn.append(words(x, at, cut(text, longest + 12), 2.4, strong=strong))
        if count:
            drawn.append(words(x + LIST_MM, at, count, 2.4, anchor="end"))
        if not strong:
            drawn.append(line(x, at + 0.9, x + LIST_MM, at + 0.9, "fine"))
    return "".join(drawn)


def list_pages(sheet: ScrewSheet) -> Iterator[str]:
    """The list on pages of its own, in columns, where it does not stand beside the plan."""
    if list_fits(sheet):
        return
    rows, say = list_rows(sheet), language(sheet.language).say
    wide, high = room_mm(sheet.paper)
    a_column = int((high - UPRIGHT_BAR_MM) / ROW_MM)
    columns = int(wide / (LIST_MM + 8))
    for start in range(0, len(rows), a_column * columns):
        content = [head(sheet, say("screw-list")), calibration(sheet.paper, sheet.language)]
        for column in range(columns):
            begin = start + column * a_column
            x = MARGIN_MM + column * (LIST_MM + 8)
            content.append(listed(sheet, x, MARGIN_MM + HEAD_MM, rows[begin : begin + a_column]))
        yield svg_page(sheet.paper, say("screw-list-page", device=sheet.device), content)


def label_pages(sheet: ScrewSheet, link: str = "", which: Which = "all") -> Iterator[str]:
    """Labels of the bag and its trays, cut along the lines; a given link is on them as a QR code.

    `which` is "all" or "with screws": only the trays that screws go into.
    """
    on, (wide, high), spoken = sheet.paper, LABEL_MM, language(sheet.language)
    columns = int((on.width_mm - 2 * MARGIN_MM) / wide)
    rows = int((on.height_mm - 2 * MARGIN_MM - FOOT_MM) / high)
    kept = [tray for tray in sheet.trays if which == "all" or tray.screws]
    texts = [bag_texts(sheet, spoken), *(tray_texts(tray, spoken) for tray in kept)]
    for start in range(0, len(texts), columns * rows):
        drawn = []
        for at, (head_text, lines) in enumerate(texts[start : start + columns * rows]):
            row, column = divmod(at, columns)
            place = (MARGIN_MM + column * wide, MARGIN_MM + row * high)
            drawn.append(label(sheet.device, head_text, lines, place, link=link))
        title = spoken.say("screw-labels-page", device=sheet.device)
        yield svg_page(on, title, [*drawn, label_foot(on, link, spoken)])


def label_foot(on: Paper, link: str, spoken: Language) -> str:
    """What stands below the labels."""
    told = spoken.say("screw-code-opens", link=link) if link else spoken.say("screw-no-code")
    return words(MARGIN_MM, on.height_mm - MARGIN_MM - 2, cut(told, 110), 2.3)


def label(device: str, title: str, lines: Sequence[str], place: tuple[float, float], *, link: str) -> str:
    """One label: what it is for, the device, what lies in it."""
    (x, y), (wide, high) = place, LABEL_MM
    drawn = [shape("rect", x=x, y=y, width=wide, height=high, class_="cut")]
    if link:
        side = high - 6
        drawn.append(qr_path(link, x + wide - side - 1, y + 1, side))
    drawn.append(words(x + 2, y + 5, title, 3.6, strong=True))
    drawn.append(words(x + 2, y + 8.6, cut(device, LABEL_SIGNS), 2.3))
    drawn += [words(x + 2, y + 12.2 + 3 * n, cut(text, LABEL_SIGNS), 2.3) for n, text in enumerate(lines)]
    return "".join(drawn)


def bag_texts(sheet: ScrewSheet, spoken: Language) -> tuple[str, list[str]]:
    """What the bag that holds the trays says; dates are written by hand."""
    screws = sum(group.count for tray in sheet.trays for group in tray.screws)
    say = spoken.say
    told = f"{say('bag-trays', count=len(sheet.trays))}, {say('bag-screws', count=screws)}"
    record = say("running-record", digest=sheet.digest[:12])
    dates = [f"{say(key)} ____________" for key in ("bag-opened", "bag-closed")]
    return say("bag"), [told, record, *dates]


def tray_texts(tray: Tray, spoken: Language) -> tuple[str, list[str]]:
    """What the label of a tray says: every screw, and as many names of parts as find room."""
    screws = [screw_line(group, spoken) for group in tray.screws]
    if len(screws) > LABEL_LINES - 1:
        more = sum(group.count for group in tray.screws[LABEL_LINES - 2 :])
        screws = [*screws[: LABEL_LINES - 2], spoken.say("tray-more-screws", count=more)]
    room = LABEL_LINES - len(screws)
    shown = [line for name in tray.names for line in wrap(name, LABEL_SIGNS)]
    if len(shown) > room:
        shown = list(tray.names)
    if len(shown) > room:
        more = len(shown) - (room - 1)
        shown = [*shown[: room - 1], spoken.say("tray-more-parts" if room > 1 else "tray-parts", count=more)]
    return spoken.say("tray", number=tray.number), [*shown, *screws]


def screw_line(group: Group, spoken: Language) -> str:
    """The screws of one joint on a label: count, letter, thread and length, head.

    >>> from midframe.screws import Kind
    >>> screw_line(Group("a", "plate", "A", Kind("", "M1.4", "pan", 3.0), 2, True, (), None), language())
    '2 × A  M1.4×3 pan'
    """
    return f"{group.count} × {group.letter}  {body_words(group.kind, spoken)}"


def kind_words(kind: Kind, spoken: Language) -> str:
    """A kind of screw as a shop writes it.

    >>> kind_words(Kind("hexalobular 4", "M1.4", "pan", 2.5), language("de"))
    'M1.4×2,5 Linsenkopf, Innensechsrund 4'
    """
    drive = spoken.term(kind.drive) or kind.drive
    return ", ".join(filter(None, (body_words(kind, spoken), drive))) or spoken.say("screw-unknown")


def body_words(kind: Kind, spoken: Language) -> str:
    """Thread, length and head of a kind of screw, as far as they are known."""
    size = kind.thread
    if kind.length_mm is not None:
        length = spoken.figure(kind.length_mm)
        size = f"{kind.thread}×{length}" if kind.thread else f"{length} mm"
    return " ".join(filter(None, (size, spoken.term(kind.head) or kind.head)))
