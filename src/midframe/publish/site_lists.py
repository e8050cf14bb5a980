"""The pages of lists, of chapters and of photos."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from midframe.dossier.figures import Cell, Row
from midframe.publish.blocks import (
    Block,
    Heading,
    Items,
    Line,
    Link,
    Page,
    Picture,
    Piece,
    Table,
    Words,
    line,
)
from midframe.publish.chapters import Chapter, clock
from midframe.publish.language import Language
from midframe.publish.lists import consumable_list, part_list, renewal_list, tool_list
from midframe.publish.names import title_of
from midframe.publish.site_contents import Published
from midframe.publish.site_overview import told
from midframe.publish.site_paths import (
    CHAPTERS,
    CHAPTERS_FILE,
    LISTS,
    PHOTOS,
    TIMES_FILE,
    photo_file,
)
from midframe.publish.site_words import free, heads, part_named, unit, word
from midframe.record.model import Photo, Record


def lists_page(of: Published, said: Language) -> Page:
    """Parts, tools, consumables and what must be new, each also as CSV."""
    made: list[Block] = [Words((said.say("site-lists-note"),), "quiet")]
    tables = (
        ("parts", part_rows(of, said), ("part", "role", "mass", "spare", "price"), (2, 4)),
        (
            "tools",
            thing_rows(of, tool_list(of.record, of.instructions), "tool", said),
            ("tool", "group", "for"),
            (),
        ),
        (
            "consumables",
            thing_rows(of, consumable_list(of.record, of.instructions), "item", said),
            ("item", "for"),
            (),
        ),
        ("renewals", renewal_rows(of, said), ("item", "joint", "for", "amount", "price"), (3, 4)),
    )
    for name, rows, columns, figures in tables:
        title = said.say("site-list", list=name)
        made.append(Heading(title, anchor=name))
        if rows:
            made.append(Table(title, heads(said, *columns), rows, figures))
            made.append(Words((Link(said.say("site-as-csv", list=title), file=f"lists/{name}.csv"),)))
        else:
            made.append(Words((said.say("site-list-empty"),)))
    return Page(LISTS, said.say("site-lists"), said.say("site-lists"), tuple(made))


def part_rows(of: Published, said: Language) -> tuple[tuple[Line, ...], ...]:
    """The parts as rows of the table."""
    return tuple(
        (
            (part_named(of, str(row["part"]), said),),
            (said.say("site-role", role=str(row["role"])),),
            (figure(row["mass_g"], "g", said),),
            (said.say("site-spare", spare=str(row["spare"] or "unknown")),),
            (money(row, said),),
        )
        for row in part_list(of.record, of.rows)
    )


def figure(value: Cell, unit: str, said: Language) -> str:
    """A figure with its unit; nothing where it is not known."""
    return f"{said.figure(value)} {unit}".rstrip() if isinstance(value, int | float) else ""


def money(row: Row, said: Language) -> str:
    """A price with its currency; nothing where it is not known."""
    price = row["price"]
    return f"{said.fixed(price, 2)} {row.get('currency') or ''}" if isinstance(price, int | float) else ""


def thing_rows(
    of: Published, rows: Sequence[Row], column: str, said: Language
) -> tuple[tuple[Line, ...], ...]:
    """Tools or consumables with the parts whose way takes them."""
    made = []
    for row in rows:
        parts = [part for part in str(row["parts"] or "").split("; ") if part]
        pieces: list[Piece] = []
        for part in parts:
            pieces += [", ", part_named(of, part, said)]
        used = line(*pieces[1:]) if parts else (said.say("site-spare-way"),)
        name = line(word(str(row[column]), said, of.written))
        group = row["group"]
        made.append(
            (name, used) if group is None else (name, (said.say("site-tool-group", group=str(group)),), used)
        )
    return tuple(made)


def renewal_rows(of: Published, said: Language) -> tuple[tuple[Line, ...], ...]:
    """What must be new on the way back from each part."""
    return tuple(
        (
            (free(str(row["item"]), said, of.written),),
            (word(str(row["for"]), said, of.written),),
            (part_named(of, str(row["part"]), said),),
            (amount(row, said),),
            (money(row, said),),
        )
        for row in renewal_list(of.record, of.instructions)
    )


def amount(row: Row, said: Language) -> str:
    """How much of it."""
    return figure(row["amount"], unit(str(row["unit"] or "")), said)


def chapters_page(found: Sequence[Chapter], said: Language) -> Page:
    """The chapters of a recording of the log."""
    rows = tuple(((clock(one.begins),), (clock(one.ends),), (one.title,)) for one in found)
    columns = heads(said, "begins", "ends", "chapter")
    links = (
        told(Link("chapters.vtt", file=CHAPTERS_FILE), said.say("site-about-webvtt")),
        told(Link("times.txt", file=TIMES_FILE), said.say("site-about-times")),
    )
    name = said.say("site-chapters")
    blocks = (Words((said.say("site-chapters-note"),)), Items(links), Table(name, columns, rows, (0, 1)))
    return Page(CHAPTERS, name, name, blocks)


def photos_page(of: Published, said: Language) -> Page:
    """The photos whose pictures are there, with what they show."""
    blocks: list[Block] = [Words((said.say("site-photos-note"),), "quiet"), *pictures(of, said)]
    lacking = len({photo.hash for photo in of.record.photos}) - len(of.photos)
    if lacking:
        blocks.append(Words((said.say("site-photos-lacking", count=lacking),), "quiet"))
    return Page(PHOTOS, said.say("site-photos"), said.say("site-photos"), tuple(blocks))


def pictures(of: Published, said: Language, part: str = "") -> Iterator[Picture]:
    """Each photo once, in the order of the record; of one part those that show it."""
    for photo in {one.hash: one for one in of.record.photos if one.hash in of.photos}.values():
        if not part or part in photo.parts:
            shown = shows(of.record, photo, said)
            yield Picture(photo_file(photo.hash), shown, photo.caption or shown)


def shows(record: Record, photo: Photo, said: Language) -> str:
    """What a photo shows, for those who do not see it: its caption, its parts, the move that it goes with."""
    names = {part.id: part.name for part in record.parts}
    parts = [names.get(part, part) for part in photo.parts]
    joints = {joint.id: title_of(joint) for joint in record.joints}
    moves = [entry for entry in record.log if entry.photo == photo.hash]
    shown = [photo.caption] if photo.caption else []
    if parts:
        shown.append(said.say("site-photo-of", names=said.listed(parts)))
    for entry in moves[:1]:
        what = joints.get(entry.open or entry.on) or said.listed(names.get(one, one) for one in entry.lift)
        shown.append(said.say("site-photo-at", time=clock(entry.seconds), what=what or "–"))
    return ". ".join(shown) or said.say("site-photo")
