"""The sums of the index written out, each line with the clause it rests on."""

from __future__ import annotations

from midframe.index.lbl_2023_1669 import KEY, METHOD, Symbol
from midframe.index.results import IndexValue, PartRow, Points, Score, decimals


def trace_lines(
    rows: tuple[PartRow, ...], scores: tuple[Score, ...], value: IndexValue | None
) -> tuple[str, ...]:
    """Lines for every part, every weighted sum, the product-level scores and R."""
    lines = [_part_line(row) for row in rows]
    lines += [_sum_line(score, rows) for score in scores[:3]]
    lines += [_product_line(score) for score in scores[3:]]
    if value is not None:
        terms = " + ".join(f"0.{score.weight}·{score.shown}" for score in scores)
        lines.append(
            f"R = {terms} = {value.exact}, class {value.repair_class} [{KEY}, {METHOD}; Annex II Table 4]"
        )
    return tuple(lines)


def _part_line(row: PartRow) -> str:
    if row.state == "absent":
        return f"{row.name}: absent, highest points in all three scores [{KEY}, {METHOD}, C12]"
    if row.state == "unknown":
        return f"{row.name}: not known, 1 to 5 points in all three scores"
    start = f", from {row.segment_start}" if row.segment_start else ""
    return (
        f"{row.name}: {_depth_text(row)}; {_fastener_text(row)}; {_tool_text(row)}{start} [{KEY}, {METHOD}]"
    )


def _depth_text(row: PartRow) -> str:
    if row.n is None:
        return f"steps not known, {row.depth} points"
    extra = f" + {row.remote_extra} for remote actions (C8) = {row.n}" if row.remote_extra else ""
    return f"{row.steps} steps{extra}, {row.depth} points"


def _fastener_text(row: PartRow) -> str:
    worst = row.deciding_fastener
    text = f"{worst.name} ({worst.level or 'level not known'})" if worst else "none"
    return f"fastener {text}: {row.fastener}"


def _tool_text(row: PartRow) -> str:
    worst = row.deciding_tool
    text = f"{worst.name} ({worst.group or 'group not known'})" if worst else "none"
    return f"tool {text}: {row.tool}"


def _counted(row: PartRow, symbol: Symbol) -> tuple[int, Points]:
    if symbol == "SDD":
        return row.weight_depth, row.depth
    return row.weight_other, row.fastener if symbol == "SF" else row.tool


def _sum_line(score: Score, rows: tuple[PartRow, ...]) -> str:
    terms = [_counted(row, score.symbol) for row in rows if score.symbol in row.counts_for]
    text = " + ".join(f"{decimals(weight, 2)}·{_factor(points)}" for weight, points in terms if weight)
    return f"{score.symbol} = {text} = {score.shown} [{KEY}, {score.clause}]"


def _factor(points: Points) -> str:
    return str(points) if points.known is not None else f"({points})"


def _product_line(score: Score) -> str:
    why = f": {score.why}" if score.why else ""
    return f"{score.symbol} = {score.shown}{why} [{KEY}, {score.clause}]"
