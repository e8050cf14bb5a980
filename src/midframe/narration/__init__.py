"""Spoken notes of a strip-down: from timed captions to a draft of what was done, and on to a record."""

from midframe.narration.build import Choices, Drafted, Traced, draft_record
from midframe.narration.captions import Captions, Cue, read_captions
from midframe.narration.draft import Draft, Item, Passed, draft_of
from midframe.narration.vocabulary import Vocabulary, english, vocabulary_with

__all__ = [
    "Captions",
    "Choices",
    "Cue",
    "Draft",
    "Drafted",
    "Item",
    "Passed",
    "Traced",
    "Vocabulary",
    "draft_of",
    "draft_record",
    "english",
    "read_captions",
    "vocabulary_with",
]
