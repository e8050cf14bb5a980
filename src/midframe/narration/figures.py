"""Number words as figures, figures with their units as measures."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from midframe.narration.tagging import Span, joined

TENS = range(20, 100, 10)
DETERMINERS = frozenset(("the", "this", "that", "no", "which", "last", "any", "left", "right", "other", "a"))


LONGEST_MM = 30.0
"""Screws in phones and tablets are no longer than this (common practice, no source)."""

OF_LABELS = ("mAh", "Wh", "V", "Ah")


def with_figures(spans: list[Span]) -> list[Span]:
    """The spans with each run of number words as one figure, and with a unit as one measure."""
    return measured(sized(counted_aloud(numbered(homophones(spans)))))


def counted_aloud(spans: list[Span]) -> list[Span]:
    """The spans with "one, two, three screws" as three."""
    found: list[Span] = []
    place = 0
    while place < len(spans):
        end, value = place, 0
        for number, span in enumerate(spans[place:], start=place):
            if span.tags.get("number") == str(value + 1):
                end, value = number, value + 1
            elif not (value and span.text in (",", ".", "¦", "and")):
                break
        thing = end + 1 < len(spans) and spans[end + 1].kind("object", "drive")
        if value > 2 or (value == 2 and thing):
            found.append(joined(spans[place : end + 1], {"number": str(value)}))
            place = end + 1
        else:
            found.append(spans[place])
            place += 1
    return found


def sized(spans: list[Span]) -> list[Span]:
    """The spans with sizes of screws as such: "M one point four", "one point two by three", "three long"."""
    found: list[Span] = []
    place = 0
    while place < len(spans):
        first, *more = spans[place : place + 3]
        texts = [span.text for span in more]
        if first.text == "m" and more and is_size(more[0]):
            found.append(joined(spans[place : place + 2], {"thread": f"M{more[0].tags['number']}"}))
            place += 2
        elif (
            is_size(first) and texts[:1] in (["by"], ["x"], ["times"]) and len(more) > 1 and is_size(more[1])
        ):
            tags = {"thread": f"M{first.tags['number']}", "mm": more[1].tags["number"]}
            found.append(joined(spans[place : place + 3], tags))
            place += 3
            place += place < len(spans) and spans[place].tags.get("unit") == "mm"
        elif (
            is_size(first)
            and texts[:1] == ["long"]
            and (len(more) == 1 or not more[1].kind("object", "part"))
        ):
            found.append(joined(spans[place : place + 2], {"mm": first.tags["number"]}))
            place += 2
        else:
            found.append(first)
            place += 1
    return found


def is_size(span: Span) -> bool:
    """Whether a figure can be a size of a screw in mm."""
    return span.kind("number") and 0 < float(span.tags["number"]) <= LONGEST_MM


def homophones(spans: list[Span]) -> list[Span]:
    """The spans in which "to minutes" is two minutes and "for screws" four screws."""
    found = []
    for place, span in enumerate(spans):
        after = spans[place + 1] if place + 1 < len(spans) else None
        before = spans[place - 1] if place else None
        said = span.tags.get("homophone")
        sized = before is not None and before.kind("drive")
        counted = sized or (
            after is not None
            and (after.kind("unit", "drive") or after.text in ("screw", "screws", "clips", "teen"))
        )
        led = before is not None and before.kind("number", "verb") and before.text != "point"
        if said is not None and (counted or after_point(spans, place)) and not led:
            heard = f"“{span.text}” taken for {said}"
            found.append(Span({"number": said}, span.text, span.first, span.last, heard))
        else:
            found.append(span)
    return found


def after_point(spans: Sequence[Span], place: int) -> bool:
    """Whether a word stands where a decimal must: "zero point ate"."""
    return place > 1 and spans[place - 1].text == "point" and spans[place - 2].kind("number")


def numbered(spans: list[Span]) -> list[Span]:
    """The spans with runs of number words put together."""
    found: list[Span] = []
    place = 0
    while place < len(spans):
        run = run_at(spans, place)
        if not run:
            span = spans[place]
            stands = span.text in ("one", "ones") and span.kind("number")
            found.append(without_number(span) if stands else span)
            place += 1
            continue
        found += figures_of(run, followed=spans[place + len(run) : place + len(run) + 1])
        place += len(run)
    return found


def without_number(span: Span) -> Span:
    """A "one" that stands for a thing, as no number."""
    tags = {kind: value for kind, value in span.tags.items() if kind != "number"}
    return Span(tags or {"stop": "stop"}, span.text, span.first, span.last, span.heard)


def run_at(spans: Sequence[Span], place: int) -> list[Span]:
    """The spans from a place on that make up numbers: number words, "point", an "and" between hundreds."""
    run: list[Span] = []
    for number, span in enumerate(spans[place:], start=place):
        after = spans[number + 1] if number + 1 < len(spans) else None
        more = after is not None and after.kind("number")
        goes_on = span.text == "teen" or (
            more and (span.text in ("point", "comma") or (span.text == "and" and bool(run) and large(run)))
        )
        both = span.text == "both" and not (after is not None and after.kind("object", "drive"))
        begins = (
            span.kind("number") and not both and not (span.text in ("one", "ones") and pronoun(spans, number))
        )
        if not begins and not (run and goes_on):
            break
        run.append(span)
    return run


def pronoun(spans: Sequence[Span], place: int) -> bool:
    """Whether a "one" stands for a thing: "the one", "this one"."""
    before = spans[place - 1] if place else None
    if before is None or before.text in DETERMINERS:
        return before is not None
    return (
        spans[place].text == "ones" and before.kind("part", "head", "qualifier") and not before.kind("drive")
    )


def large(run: Sequence[Span]) -> bool:
    """Whether hundreds or thousands came before an "and"."""
    return run[-1].tags.get("number") in ("100", "1000")


def figures_of(run: Sequence[Span], followed: Sequence[Span]) -> list[Span]:
    """The figures that a run of number words says: usually one; digit by digit before mAh.

    >>> known = {"four": "4", "thousand": "1000", "fifty": "50", "three": "3", "eight": "8", "one": "1"}
    >>> def said(text):
    ...     spans = [Span({"number": known[one]} if one in known else {}, one, 0, 0) for one in text.split()]
    ...     return [span.tags["number"] for span in figures_of(spans, [])]
    >>> said("four thousand and fifty"), said("three point eight eight"), said("four one point four")
    (['4050'], ['3.88'], ['4', '1.4'])
    """
    groups: list[list[Span]] = []
    values: list[str] = []
    place = 0
    while place < len(run):
        span = run[place]
        said = span.tags.get("number")
        if span.text in ("point", "comma") and values:
            digits = [one for one in run[place + 1 :] if one.kind("number")]
            tail = [one.tags["number"] for one in digits if one.tags["number"].isdecimal()]
            groups[-1] += [span, *digits]
            values[-1] = f"{values[-1]}.{''.join(tail)}" if tail else values[-1]
            break
        if span.text == "teen" and values:
            groups[-1].append(span)
            values[-1] = f"{float(values[-1]) + 10:g}" if float(values[-1]) < 10 else values[-1]
        elif said is None:
            groups[-1].append(span)
        elif values and (sum_ := added(values[-1], said, run[place - 1])) is not None and in_words(span):
            groups[-1].append(span)
            values[-1] = sum_
        else:
            groups.append([span])
            values.append(said)
        place += 1
    unit = followed[0].tags.get("unit") if followed else None
    charge = bool(followed) and followed[0].tags.get("label") in ("typical capacity", "rated capacity")
    if len(values) > 1 and (unit == "mAh" or charge):
        return [joined(list(run), {"number": "".join(values)})]  # four five hundred: 4500
    if len(values) > 1 and unit in ("V", "Wh") and all(len(one) == 1 for one in values[1:]):
        return [without_point(run, values)]
    return [joined(group, {"number": value}) for group, value in zip(groups, values, strict=True)]


def without_point(run: Sequence[Span], values: Sequence[str]) -> Span:
    """Digits before volts or watt hours whose point was not said: "three eight five volts"."""
    whole = joined(list(run), {"number": f"{values[0]}.{''.join(values[1:])}"})
    told = f"“{whole.text}” taken for {whole.tags['number']}"
    return Span(whole.tags, whole.text, whole.first, whole.last, told)


def in_words(span: Span) -> bool:
    """Whether a number was said in words, so that it may go on with the one before; figures stand alone."""
    return not span.text[0].isdigit()


def added(before: str, said: str, between: Span) -> str | None:
    """A number that goes on with the one before: twenty two, four thousand, a hundred and five."""
    if not (before.isdecimal() and said.isdecimal()) or before.startswith("0") or len(before) > 6:
        return None
    left, right = int(before), int(said)
    if right in (100, 1000) and left < right:
        return str(left * right)
    if left in TENS and 0 < right < 10:
        return str(left + right)
    if left > 100 and left % 100 in TENS and 0 < right < 10:
        return str(left + right)
    if left >= 100 and right < 100 and (left % 100 == 0) and between.kind("mark", "number"):
        return str(left + right)
    if left >= 1000 and left % 1000 == 0 and right < 1000:
        return str(left + right)
    hundreds = left >= 1000 and left % 1000 and left % 1000 < 10 and right == 100
    return str(left - left % 1000 + left % 1000 * 100) if hundreds else None


def measured(spans: list[Span]) -> list[Span]:
    """The spans with a figure and its unit, or its unit and a half, as one measure in the record's units."""
    found: list[Span] = []
    place = 0
    while place < len(spans):
        span = spans[place]
        halves = [span, *spans[place + 1 : place + 2]]
        if span.kind("number") and len(halves) == 2 and halves[1].mark("half"):
            span = joined(halves, {"number": f"{float(span.tags['number']) + 0.5:g}"})
            place += 1
        after = spans[place + 1] if place + 1 < len(spans) else None
        if span.kind("number") and (gap := far_unit(spans, place)):
            span, after = (
                joined(spans[place : place + gap], {"number": span.tags["number"]}),
                spans[place + gap],
            )
            place += gap - 1
        united = span.kind("number") and after is not None and after.kind("unit")
        if united or span.kind("time"):
            pieces = [span, *([after] if united and after is not None else [])]
            value = float(span.tags["number"]) if united else float(span.tags["time"]) / 60
            unit = pieces[-1].tags["unit"] if united else "min"
            place += len(pieces) - 1
            tail = spans[place + 1 : place + 2]
            if tail and tail[0].mark("half"):
                pieces, value, place = [*pieces, tail[0]], value + 0.5, place + 1
            found.append(joined(pieces, measure(value, unit)))
        else:
            found.append(span)
        place += 1
    return added_times(found)


def far_unit(spans: Sequence[Span], place: int) -> int:
    """How far on the unit of a figure stands: "three thousand on the label, milliamp hours"; else 0."""
    for number, span in enumerate(spans[place + 1 : place + 6], start=1):
        if span.tags.get("unit") in OF_LABELS:
            return number if number > 1 else 0
        if not (span.kind("stop", "label", "near", "mark") or span.text in (",", "¦")):
            return 0
    return 0


def measure(value: float, unit: str) -> dict[str, str]:
    """A figure with its unit as the record writes it.

    >>> measure(3, "min"), measure(4.05, "Ah"), measure(80, "c")
    ({'seconds': '180'}, {'mAh': '4050'}, {'celsius': '80'})
    """
    kind, factor = {
        "min": ("seconds", 60.0),
        "s": ("seconds", 1.0),
        "c": ("celsius", 1.0),
        "Ah": ("mAh", 1000.0),
    }.get(unit, (unit, 1.0))
    return {kind: f"{value * factor:.10g}"}


def added_times(spans: Iterable[Span]) -> list[Span]:
    """The spans with "one minute thirty seconds" as one time."""
    found: list[Span] = []
    for span in spans:
        last = found[-1] if found else None
        if last is not None and last.kind("seconds") and span.kind("seconds"):
            total = float(last.tags["seconds"]) + float(span.tags["seconds"])
            if float(last.tags["seconds"]) >= 60 > float(span.tags["seconds"]):
                found[-1] = joined([last, span], {"seconds": f"{total:.10g}"})
                continue
        found.append(span)
    return found
