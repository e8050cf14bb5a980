"""The work instruction of a way: everything gathered from the record and the count, nothing rendered."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from functools import reduce
from itertools import accumulate

import midframe
from midframe.publish.cautions import CAUTIONS, hazards, live_moves
from midframe.publish.contents import BackLine, CountedStep, Instruction, MoveIn, StepGroup, Summary
from midframe.publish.language import Language
from midframe.publish.language import language as language_of
from midframe.publish.moves import Teller
from midframe.publish.names import title_of
from midframe.publish.renewals import films, parted, renewals
from midframe.publish.section import stack_drawing, stretch
from midframe.publish.switch_on import way_back
from midframe.record import Record, digest
from midframe.sources import cited
from midframe.upkeep.lognormal import SIGMA_OF_LN, fenton_wilkinson
from midframe.ways.backward import BackMove
from midframe.ways.count import CountedMove
from midframe.ways.objective import Objective
from midframe.ways.way import Way, untouched

RESTS_ON: Mapping[str, str] = {
    "removal": "Regulation (EU) 2023/1669, Annex I (20)",
    "tool change": "Regulation (EU) 2023/1669, Annex I (20)",
    "tools at the same time": "Regulation (EU) 2023/1669, Annex IV point 5",
    "heating": "Regulation (EU) 2023/1669, Annex IV point 5",
    "cleaning": "Regulation (EU) 2023/1669, Annex IV point 5",
    "unplugging": "reading Q2",
    "last openings": "reading M1",
}
"""What each kind of step rests on [lbl-2023-1669, Annex I (20) and Annex IV point 5]."""


def instruction(
    record: Record,
    way: Way,
    *,
    missing_tools: Sequence[str] | None = None,
    date: str = "",
    condition: str = "",
    language: str = "en",
) -> Instruction:
    """The work instruction for a way in and back.

    Parameters
    ----------
    missing_tools
        What a toolbox that was compared lacks; None where none was compared.
    date
        Printed as it is given; without it the same record and way give the same text.
    condition
        What the way keeps to at a cost, in words: the proof then is about such ways only.
    language
        Code of the language of the sheet; names and notes of the record stay as they are written.

    Raises
    ------
    BadSetting
        Where there is no such language.
    IllegalMove
        Where the way does not fit the record, or cannot be gone back.
    """
    targets = (
        tuple(way.target.split("+")) if not any(p.id == way.target for p in record.parts) else (way.target,)
    )
    spoken = language_of(language)
    teller = Teller(record, way, targets, live_moves(record, way.count.moves), language)
    moves = teller.moves()
    alone, closed = untouched(record, way)
    found_hazards = hazards(record, way.count.moves, [move.number for move in moves if move.live])
    keys = {key for hazard in found_hazards for key in CAUTIONS[hazard.key]}
    keys |= {"lbl-2023-1669", "step-times-lf", "fenton-1960"}
    lifted = [teller.gripped_first(move) for move in way.count.moves if move.move.lift]
    return Instruction(
        device=record.device.name,
        target=spoken.listed(teller.part_name(target) for target in targets),
        invented=record.device.invented,
        digest=digest(record),
        program=f"midframe {midframe.__version__}",
        date=date,
        summary=summary(record, way, moves, condition, language),
        hazards=found_hazards,
        missing_tools=None if missing_tools is None else tuple(missing_tools),
        tools=way.count.tools,
        consumables=way.count.consumables,
        standby=standby(way, moves),
        renewals=renewals(record, way),
        before=tuple(check.text for check in record.checks if check.when != "after"),
        after=tuple(check.text for check in record.checks if check.when != "before"),
        duties=tuple(
            dict.fromkeys(duty for part in record.parts if part.id in way.bundle for duty in part.remote)
        ),
        groups=grouped(way, moves, spoken),
        untouched=tuple(teller.part_name(part) for part in alone),
        untouched_joints=len(closed),
        back=back_lines(teller, way_back(teller.rules, way.moves), way),
        steps=tuple(
            CountedStep(s.number, said(spoken, s.ends_with), s.move, said(spoken, RESTS_ON[s.ends_with]))
            for s in way.count.steps
        ),
        readings=tuple(said(spoken, reading) for reading in way.count.readings),
        sources=cited(keys),
        overview=stack_drawing(record, lifted, target=targets[0], up=teller.overview_side(), code=language),
        depth_stretch=stretch(record, targets[0]),
        marks=tuple(dict.fromkeys(move.kind for move in moves if move.kind is not None)),
        language=language,
        written=record.device.language,
    )


def said(spoken: Language, text: str) -> str:
    """Fixed words of a result in a language, as they are where no catalogue knows them."""
    return spoken.term(text) or text


def summary(
    record: Record, way: Way, moves: Sequence[MoveIn], condition: str = "", language: str = "en"
) -> Summary:
    """The job in figures; the range is the middle 90 % of the total, by closed form.

    References
    ----------
    [fenton-1960, moment matching] with the spread of [step-times-lf, pooled over 14 groups].
    """
    medians = [step.seconds or 0.0 for move in way.count.moves for step in move.operations]
    medians += [
        extra for move in way.count.moves for extra in (move.change_seconds, move.flip_seconds) if extra
    ]
    spoken = language_of(language)
    least = minimised(way.objective, spoken)
    if condition:
        least = spoken.say("kept-to", least=least, condition=said(spoken, condition))
    spread = fenton_wilkinson(medians, SIGMA_OF_LN) if sum(medians) > 0 else None
    return Summary(
        steps=way.steps,
        moves=len(moves),
        seconds=way.seconds,
        low_seconds=spread.percentile(0.05) if spread else 0.0,
        high_seconds=spread.percentile(0.95) if spread else 0.0,
        tools=len(way.count.tools),
        screws=sum(move.screws.count for move in moves if move.screws),
        money=way.money,
        labour_per_hour=way.count.labour_per_hour,
        currency=record.device.currency,
        unpriced=way.count.unpriced,
        proven=way.proven,
        assumed=tuple(move.name for move in moves if move.assumed),
        default_times=sum(move.default_times for move in moves),
        minimised=least,
    )


def standby(way: Way, moves: Sequence[MoveIn]) -> tuple[str, ...]:
    """Tools and consumables that only the other ways of opening need."""
    others = (tool for move in moves for work in move.otherwise for step in work for tool in step.tools)
    return tuple(
        tool for tool in dict.fromkeys(others) if tool not in (*way.count.tools, *way.count.consumables)
    )


def minimised(objective: Objective, spoken: Language) -> str:
    """What was made least, in order, in words.

    >>> minimised(Objective.parse("steps,seconds"), language_of("en"))
    'steps, then seconds'
    """
    terms = []
    for term in objective.terms:
        costs = [name for name in ("steps", "seconds", "money", "risk") if getattr(term, name)]
        names = [spoken.say("least", cost=cost) for cost in costs]
        terms.append(reduce(lambda one, other: spoken.say("least-together", one=one, other=other), names))
    return reduce(lambda one, other: spoken.say("least-then", one=one, other=other), terms)


def grouped(way: Way, moves: Sequence[MoveIn], spoken: Language) -> tuple[StepGroup, ...]:
    """The moves, parted after every one in which steps end."""
    groups: list[StepGroup] = []
    waiting: list[MoveIn] = []
    for move in moves:
        waiting.append(move)
        ended = [step for step in way.count.steps if step.move == move.number]
        if ended or move is moves[-1]:
            numbers = tuple(step.number for step in ended)
            ends = tuple(said(spoken, step.ends_with) for step in ended)
            groups.append(StepGroup(numbers, ends, tuple(waiting)))
            waiting = []
    return tuple(groups)


def back_lines(teller: Teller, back: Sequence[BackMove], way: Way) -> tuple[BackLine, ...]:
    """The way back with what is new in it; what a way ruins and its target are new parts."""
    new = {*way.count.ruined, *way.bundle}
    still_out = out_after_each(teller, back)
    return tuple(
        BackLine(
            number=number,
            of=move.of,
            action=action(teller, move),
            kind=teller.joints[move.close].kind if move.close else None,
            names=(title_of(teller.joints[move.close]),)
            if move.close
            else tuple(map(teller.part_name, move.place)),
            new_parts=tuple(teller.part_name(part) for part in move.place if part in new),
            renewals=renewed_by(teller, move, way.count.moves[move.of - 1]),
            screws=teller.screws(move.of) if move.close else None,
            live=move.of in teller.live,
            still_out=still_out[number - 1],
        )
        for number, move in enumerate(back, start=1)
    )


def out_after_each(teller: Teller, back: Sequence[BackMove]) -> tuple[int, ...]:
    """Screws still out after every move back."""
    put_in = ((teller.joints[move.close].count or 1) if teller.is_screw(move.close) else 0 for move in back)
    return tuple(teller.out_of - done for done in accumulate(put_in))


def action(teller: Teller, move: BackMove) -> str:
    """The verb of a move back, by the kind of joint."""
    kind = teller.joints[move.close].kind if move.close else "none"
    return language_of(teller.code).say("closing", kind=kind)


def renewed_by(teller: Teller, move: BackMove, undone: CountedMove) -> tuple[str, ...]:
    """What is renewed with a move back: by its joint, its parts, and the seals and layers it closes.

    A seal that is the bond of a joint stands at that joint alone.
    """
    joint = teller.joints.get(move.close)
    found = [joint.renew] if joint is not None else [teller.parts[part].renew for part in move.place]
    bonds = (teller.joints[one].renew for one in teller.way.count.renewed_joints)
    own = {renew.item.casefold() for renew in bonds if renew is not None}
    for renew, together in films(teller.record):
        if renew.item.casefold() not in own and parted(undone, together):
            found.append(renew)
    return tuple(dict.fromkeys(renewal.item for renewal in found if renewal is not None))
