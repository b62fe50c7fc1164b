"""Of what shape is a sheet for a class, as it goes to a page? For the generated types and the tests, as `shapes`."""

from typing import Literal, TypedDict

from .shapes import Dynamic, FrameInfo, OptionInfo


class BlankInfo(TypedDict):
    """A place to be counted: what is said there, and the place in words."""

    at: int
    answer: str
    words: str


class SheetStroke(TypedDict):
    """A stroke on a sheet; `figure` marks those that are turned. Its id is its number in its item."""

    id: str
    at: int
    surface: str
    dynamic: Dynamic
    grace: str
    hand: str
    figure: bool


class SheetItem(TypedDict):
    """A beat on a sheet, as it is drawn: its number or letter, what is said about it, the beat in words for those who
    do not see it, its lines with what they are called, and its own frame."""

    label: str
    sentence: str
    begins: str
    spoken: str
    lanes: list[str]
    labels: list[str]
    frame: FrameInfo
    strokes: list[SheetStroke]
    blanks: list[BlankInfo]


class PlayInfo(TypedDict):
    """A beat to be played: the letter of its item, the number of its stage, what that one is, and how often it goes
    round."""

    label: str
    stage: int
    told: str
    passes: int


class SheetReply(TypedDict):
    """A sheet for a class: what it is called, what to do, its beats, what it is made `of` and could be made of, and
    what is played in which order."""

    answer: Literal["sheet"]
    sheet: Literal["turns", "count", "hear"]
    heading: str
    task: str
    title: str
    facts: list[str]
    of: str
    choices: list[OptionInfo]
    items: list[SheetItem]
    plays: list[PlayInfo]


REPLIES = (SheetReply,)
SHAPES = (BlankInfo, SheetStroke, SheetItem, PlayInfo, *REPLIES)
