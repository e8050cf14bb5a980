"""Which assumed condition to ask about first: the one whose answer moves the index most."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from midframe.dossier.index import assumed_in, without_assumed
from midframe.dossier.redesign import Edit, touching_joints, touching_parts
from midframe.dossier.what_if import Options, WhatIf, what_if
from midframe.record.model import Record
from midframe.ways.wording import choice_words, joint_words


def questions(record: Record, options: Options | None = None) -> WhatIf:
    """What each assumed condition would change if it did not hold, the one that moves R most first.

    The labels are questions; an answer "yes" leaves things as they are, a "no" brings the change.

    >>> from midframe.demo import load
    >>> questions(load("tern-2"), Options(times=False)).tried
    1
    """
    return what_if(record, options, edits=tuple(question_edits(record)))


def question_edits(record: Record) -> Iterator[Edit]:
    """One edit for each part or joint whose condition is assumed: the condition left out."""
    assumed = set(assumed_in(record))
    for part in record.parts:
        if part.assumed and part.id in assumed:
            yield Edit(
                id=f"assumed:{part.id}",
                kind="assumed condition",
                label=f"{part.name}: must {choice_words(record, part.under)} be off before it can be lifted?",
                subjects=(part.id,),
                touches=touching_parts((part.id,)),
                apply=_without(part.id),
            )
    for joint in record.joints:
        if joint.assumed and joint.id in assumed:
            words = joint_words(joint)
            off = choice_words(record, joint.behind)
            yield Edit(
                id=f"assumed:{joint.id}",
                kind="assumed condition",
                label=f"{words[:1].upper()}{words[1:]}: must {off} be off before it can be reached?",
                subjects=(joint.id,),
                touches=touching_joints((joint.id,)),
                apply=_without(joint.id),
            )


def _without(name: str) -> Callable[[Record], Record]:
    return lambda record: without_assumed(record, (name,))
