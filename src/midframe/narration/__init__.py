"""Spoken notes of a strip-down: from timed captions to a draft of what was done, and on to a record."""

from midframe.narration.build import Choices, Drafted, Traced, draft_record
from midframe.narration.captions import Captions, Cue, read_captions
from midframe.narration.draft import Draft, Item, Passed, draft_of
from midframe.narration.review import Begun, Entry, Review, Step, looked_through
from midframe.narration.vocabulary import Vocabulary, english, vocabulary_with

__all__ = [
    "Begun",
    "Captions",
    "Choices",
    "Cue",
    "Draft",
    "Drafted",
    "Entry",
    "Item",
    "Passed",
    "Review",
    "Step",
    "Traced",
    "Vocabulary",
    "draft_of",
    "draft_record",
    "english",
    "looked_through",
    "read_captions",
    "vocabulary_with",
]
