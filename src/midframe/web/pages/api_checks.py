"""Screws, function checks and seal tests as JSON under /api."""

from __future__ import annotations

from typing import Annotated, Literal

import msgspec
from msgspec import Meta
from starlette.requests import Request
from starlette.routing import Route

from midframe.faults import BadSetting
from midframe.record import sound
from midframe.record.model import Outcome, SealTest
from midframe.record.values import Celsius, NotNegative, Percent, Positive
from midframe.screws import Mistaken, Tally, Torque, WrongHole, mistaken, tally, torque, wrong_holes
from midframe.seal import SealCheck, result_of
from midframe.seal.kept import id_of
from midframe.trials import Difference, Trial, answered, answers, difference, trials, worse
from midframe.web.api_answers import kept_of
from midframe.web.context import now, store_of
from midframe.web.openapi import Said, operation
from midframe.web.pages.api import SavedGiven, saved_given, words_of


class JointTorque(msgspec.Struct, frozen=True):
    """How tight the screws of one joint are; null where neither record nor table knows."""

    joint: str
    torque: Torque | None


class ScrewsGiven(msgspec.Struct, frozen=True):
    """The screws of a record: tally, kinds mistaken for each other, wrong holes with the gravest first."""

    id: str
    revision: int
    tally: Tally
    mistaken: tuple[Mistaken, ...]
    wrong_holes: tuple[WrongHole, ...]
    torques: tuple[JointTorque, ...]


class TrialsGiven(msgspec.Struct, frozen=True):
    """The function checks that apply, and before and after side by side with what is worse in front."""

    id: str
    revision: int
    trials: tuple[Trial, ...]
    worse: tuple[str, ...]
    differences: tuple[Difference, ...]


class AnswerTaken(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """What one check came to before or after the job; null takes the answer back."""

    check: str
    when: Literal["before", "after"]
    outcome: Outcome | None
    key: str = ""


class SealTestTaken(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """A decay test: absolute pressures in Pa over seconds, and °C for each where it was measured."""

    volume_ml: Positive
    seconds: Annotated[tuple[NotNegative, ...], Meta(max_length=10_000)]
    pressure_pa: Annotated[tuple[Positive, ...], Meta(max_length=10_000)]
    celsius: Annotated[tuple[Celsius, ...], Meta(max_length=10_000)] = ()
    ambient_pa: Positive = 101_325.0
    gas: Literal["air", "nitrogen", "argon", "helium", "hydrogen"] = "air"
    volume_uncertainty_percent: Percent = 5.0
    pressure_uncertainty_pa: NotNegative = 5.0
    temperature_uncertainty_k: NotNegative = 0.05
    note: str = ""
    key: str = ""


class SealTestGiven(msgspec.Struct, frozen=True):
    """A kept seal test and what it says; null where its figures cannot be."""

    test: SealTest
    found: SealCheck | None


class SealTestsGiven(msgspec.Struct, frozen=True):
    """The seal tests of a record, in the order in which they were kept."""

    id: str
    revision: int
    tests: tuple[SealTestGiven, ...]


@operation(Said(summary="Screws", gives=ScrewsGiven))
def screws(request: Request, _body: bytes) -> ScrewsGiven:
    """The tally of the screws, what is mistaken for what, which hole suffers, how tight."""
    kept = kept_of(request)
    joints = [joint for joint in kept.record.joints if joint.kind == "screw"]
    return ScrewsGiven(
        kept.id,
        kept.revision,
        tally(kept.record),
        mistaken(kept.record),
        wrong_holes(kept.record),
        tuple(JointTorque(joint.id, torque(kept.record, joint)) for joint in joints),
    )


@operation(Said(summary="Function checks", gives=TrialsGiven))
def checks(request: Request, _body: bytes) -> TrialsGiven:
    """The function checks with their answers."""
    kept = kept_of(request)
    found = difference(kept.record, *answers(kept.record))
    bad = tuple(one.trial.id for one in worse(found))
    return TrialsGiven(kept.id, kept.revision, trials(kept.record), bad, found)


@operation(Said(summary="An answer to a function check", takes=AnswerTaken, gives=SavedGiven))
def answer(request: Request, body: AnswerTaken) -> SavedGiven:
    """Keep what a check came to, as a revision."""
    kept = kept_of(request)
    record = answered(kept.record, body.check, body.when, body.outcome)
    said = body.outcome.outcome if body.outcome else "taken back"
    words = words_of(request, body, f"Function check {body.check}, {body.when} the job: {said}")
    return saved_given(store_of(request).save(kept.id, record, base=kept.revision, **words))


@operation(Said(summary="Seal tests", gives=SealTestsGiven))
def seal_tests(request: Request, _body: bytes) -> SealTestsGiven:
    """The kept seal tests with their results, computed anew from the readings."""
    kept = kept_of(request)
    return SealTestsGiven(kept.id, kept.revision, tuple(map(seal_given, kept.record.seal_tests)))


@operation(Said(summary="A seal test", takes=SealTestTaken, gives=SavedGiven, status=201))
def seal_test(request: Request, body: SealTestTaken) -> SavedGiven:
    """Keep a seal test with the record; one whose figures cannot be is refused."""
    kept = kept_of(request)
    said = msgspec.structs.asdict(body)
    said.pop("key")
    moment = now()
    test = SealTest(id=id_of(kept.record, moment), at=moment, **said)
    record = sound(msgspec.structs.replace(kept.record, seal_tests=(*kept.record.seal_tests, test)))
    found = result_of(test)
    words = words_of(request, body, f"Seal test kept: {found.rate_pa_m3_s:.2e} Pa·m³/s")
    return saved_given(store_of(request).save(kept.id, record, base=kept.revision, **words))


def seal_given(test: SealTest) -> SealTestGiven:
    """One test as JSON gives it."""
    try:
        return SealTestGiven(test, result_of(test))
    except BadSetting:
        return SealTestGiven(test, None)


routes = (
    Route("/api/records/{id}/screws", screws),
    Route("/api/records/{id}/trials", checks),
    Route("/api/records/{id}/trials", answer, methods=["POST"]),
    Route("/api/records/{id}/seal-tests", seal_tests),
    Route("/api/records/{id}/seal-tests", seal_test, methods=["POST"]),
)
