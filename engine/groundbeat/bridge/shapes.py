"""Of what shape is each reply to a page?

For the generated JavaScript types and for the tests; never imported by the engine at work, since defining types costs
time in a browser. Requests are the dataclasses of `messages`.
"""

from typing import Literal, NotRequired, TypedDict

Dynamic = Literal["ghost", "soft", "normal", "accent"]
Fate = Literal["kept", "moved", "altered", "added", "left out", "merged"]
Layer = Literal["base", "stage", "both"]


class Refused(TypedDict):
    """Why a question was refused: a stable code, a message for people, the field at fault."""

    code: str
    message: str
    field: str | None


class Refusal(TypedDict):
    """The reply to a question that cannot be answered."""

    refused: Refused


class HelloReply(TypedDict):
    """The versions."""

    answer: Literal["hello"]
    version: str
    python: str


class LinkReply(TypedDict):
    """A document as a fragment, without its "#", and its length in characters."""

    answer: Literal["link"]
    fragment: str
    length: int


class GridPlace(TypedDict):
    """A column: ticks from the start, bar, what is spoken there, its place in words ("e of 3"), and its weight (2 a
    beat, 1 half way, 0 else)."""

    at: int
    bar: int
    count: str
    place: str
    weight: int


class SurfaceInfo(TypedDict):
    """How a surface is called, and which line from the top it has."""

    label: str
    row: int


class WordInfo(TypedDict):
    """A piece of a sentence, and the setting that it says."""

    text: str
    setting: NotRequired[str]


class StrokeInfo(TypedDict):
    """A stroke of a stage; `origin` and `changed_by` are numbers of stages, `label` is what a screen reader says."""

    id: str
    at: int
    surface: str
    dynamic: Dynamic
    grace: str
    hand: str
    origin: int
    changed_by: list[int]
    label: str


# A stroke between the stage before and this one; places are [ticks, surface]. ("from" is no name in Python.)
ThreadInfo = TypedDict(
    "ThreadInfo",
    {
        "id": str,
        "from": tuple[int, str] | None,
        "to": tuple[int, str] | None,
        "fate": Fate,
        "crosses": bool,
    },
)


class StageHead(TypedDict):
    """What a stage is called and does, in words."""

    stage: int
    key: int
    kind: str
    heading: str
    name: str
    on: bool
    sentence: list[WordInfo]
    plain: str
    note: str
    says: list[str]
    summary: str
    offers: list[str]
    lanes: list[str]
    frame: int


class StageInfo(StageHead):
    """A stage as it is drawn."""

    strokes: list[StrokeInfo]
    threads: list[ThreadInfo]


class NewerInfo(TypedDict):
    """From which stage on a newer Groundbeat is needed."""

    stage: int
    message: str


class KitInfo(TypedDict):
    """The student's kit on which a view is shown: as text, and what is played where, in words."""

    text: str
    says: list[str]


class WayInfo(TypedDict):
    """Another way: the number of the stage that it leaves from, how many variations it has from there, and what the
    first few of them that are on say."""

    name: str
    after: int
    length: int
    plain: list[str]


class ViewHead(TypedDict):
    """What a view tells beside its columns and stages; `document` goes into the next question."""

    answer: Literal["view"]
    document: str
    link: str | None
    link_trouble: str | None
    title: str
    note: str
    meter: str
    columns: str
    tempo: float
    tempo_unit: str
    tempo_unit_ticks: int
    bars: int
    bar_ticks: int
    cycle: int
    surfaces: dict[str, SurfaceInfo]
    says: list[str]
    newer: NewerInfo | None
    lines: list[str]  # surfaces that have a line though they are silent in the base beat
    fits: list[str]  # the columns that a bar of this meter holds
    own: dict[str, str]  # lines of the base beat that stand on columns of their own
    ways: list[WayInfo]  # other ways from one of the stages, which are not in the link
    swing: str  # of the base beat: "straight", "eighths 2:1"
    pushes: dict[str, int]  # how many milliseconds surfaces of it, or "all", are late
    feel: str  # both in words
    kit: KitInfo | None  # None: as written
    select: int | None  # after an edit: the stage to be chosen, None to stay


class FrameInfo(TypedDict):
    """The frame of a stage that has another meter, length or columns than the base beat."""

    meter: str
    columns: str
    bars: int
    bar_ticks: int
    cycle: int
    grid: list[GridPlace]


class ViewReply(ViewHead):
    """Everything that a page shows of a groove; `frames` are those that differ from the base beat's."""

    grid: list[GridPlace]
    frames: list[FrameInfo]
    stages: list[StageInfo]


StrokeRow = tuple[str, int, str, Dynamic, str, str, int, list[int], str]


class FoldedStage(TypedDict):
    """A stage as what it changes of the shown stage with the number `like`, or (-1) of the stage before it.

    `rows` are strokes that are new or changed: id, at, surface, dynamic, grace, hand, origin, changed_by, label;
    `threads` those that are not simply kept. What is missing is as it was.
    """

    like: int
    head: NotRequired[StageHead]
    rows: NotRequired[list[StrokeRow]]
    gone: NotRequired[list[str]]
    threads: NotRequired[list[ThreadInfo]]


class FoldedReply(ViewHead):
    """A view that tells only what the page does not have; no grid and no frames where they are the same."""

    folded: Literal[True]
    grid: list[GridPlace] | None
    frames: list[FrameInfo] | None
    stages: list[FoldedStage]


class GlimpseReply(TypedDict):
    """The stage that an edit is about, told first; -1 and nothing where more than one stage is another."""

    answer: Literal["glimpse"]
    stage: int
    told: FoldedStage | None


class OptionInfo(TypedDict):
    """A value of a setting, and how it reads in the sentence."""

    value: str
    text: str


class ChoicesReply(TypedDict):
    """What a word can be changed to: "one" of the options or "many"; `free` values may be written as text."""

    answer: Literal["choices"]
    control: Literal["one", "many"]
    value: str
    options: list[OptionInfo]
    free: bool
    optional: bool
    label: str
    example: str
    head: bool


class OfferInfo(TypedDict):
    """A variation that would serve a purpose: its number among the ideas, its kind, what it says, and why."""

    number: int
    kind: str
    sentence: str
    reason: str


class PurposeReply(TypedDict):
    """What would serve a purpose on a stage."""

    answer: Literal["purpose"]
    offers: list[OfferInfo]


class ColumnsReply(TypedDict):
    """Where the places of a line with these columns lie."""

    answer: Literal["columns"]
    columns: str
    grid: list[GridPlace]


class SettingInfo(TypedDict):
    """What the page says of a setting: what it is about, what a button says that brings it up where the sentence leaves
    it unsaid, the setting that must be said before it, and the settings inside a group, the one that makes it first."""

    name: str
    label: str
    offer: str
    needs: str
    inner: list[str]


class KindInfo(TypedDict):
    """A kind of variation, and the sentence that a new one begins with."""

    kind: str
    heading: str
    family: str
    sentence: str
    settings: list[SettingInfo]


class PresetInfo(TypedDict):
    """A kit that a student may own, by name and as text."""

    name: str
    kit: str


class KindsReply(TypedDict):
    """The kinds of variation that can be added, all surfaces of the kit from the top line, the things that a student
    may own, and some usual kits."""

    answer: Literal["kinds"]
    kinds: list[KindInfo]
    kit: list[str]
    things: list[str]
    presets: list[PresetInfo]
    purposes: list[str]


class CarriedInfo(TypedDict):
    """What becomes of one variation on another beat: what it did here and does there in a few words, what its stage
    there says, the verdict and why."""

    stage: int
    kind: str
    heading: str
    plain: str
    here: str
    there: str
    says: list[str]
    verdict: Literal["carried over", "partly", "changes nothing", "found nothing", "off"]
    why: str


class CarryReply(TypedDict):
    """What becomes of all variations on another beat: the titles of both, a sentence about it, and the result."""

    answer: Literal["carry"]
    here: str
    there: str
    told: str
    rows: list[CarriedInfo]
    view: ViewReply


class QrReply(TypedDict):
    """A QR code of `size` modules without its border, "8-M" by version and level; `path` fills the dark modules."""

    answer: Literal["qr"]
    size: int
    version: str
    path: str


class EventInfo(TypedDict):
    """A sound: place in 1/parts tick, offset in microseconds, and whose it is; how much louder than usual, in
    hundredths of a decibel, and in which round it sounds, -1 for each."""

    at: int
    us: int
    surface: str
    dynamic: Dynamic
    id: str
    layer: Layer
    added: bool
    grace: bool
    stop: bool
    gain: int
    round: int


class ClickInfo(TypedDict):
    """A click; strong on the first of a bar, and on the beats of a count-in; quiet where it sounds softer."""

    at: int
    us: int
    strong: bool
    quiet: bool


class CountInfo(TypedDict):
    """What sounds once before the loop: its length in 1/parts tick, and its clicks."""

    loop: int
    clicks: list[ClickInfo]


class TimelineReply(TypedDict):
    """When the strokes of a stage sound, beside those of the base beat; `start` is where the loop begins. The
    clicks are those of `rounds` passes, one after the other."""

    answer: Literal["timeline"]
    stage: int
    start: int
    loop: int
    parts: int
    tempo_unit_ticks: int
    tempo: float
    events: list[EventInfo]
    clicks: list[ClickInfo]
    rounds: int
    count_in: CountInfo | None


EventRow = tuple[int, int, str, Dynamic, str, Layer, int] | tuple[int, int, str, Dynamic, str, Layer, int, int, int]


class FoldedTimeline(TypedDict):
    """A timeline in rows: events as at, us, surface, dynamic, id, layer, flags, and gain and round where they are
    not the usual; clicks as at and flags (1 strong, 2 quiet)."""

    answer: Literal["timeline"]
    folded: Literal[True]
    stage: int
    start: int
    loop: int
    parts: int
    tempo_unit_ticks: int
    tempo: float
    events: list[EventRow]
    clicks: list[tuple[int, int]]
    rounds: int
    count_in: CountInfo | None


REPLIES = (
    HelloReply,
    LinkReply,
    ViewReply,
    FoldedReply,
    GlimpseReply,
    TimelineReply,
    FoldedTimeline,
    ChoicesReply,
    PurposeReply,
    ColumnsReply,
    KindsReply,
    CarryReply,
    QrReply,
)
SHAPES = (
    Refused, Refusal, GridPlace, SurfaceInfo, WordInfo, StrokeInfo, ThreadInfo, StageHead, StageInfo, FrameInfo,
    NewerInfo, WayInfo, EventInfo, ClickInfo, CountInfo, OptionInfo, SettingInfo, OfferInfo, KindInfo, FoldedStage,
    KitInfo, PresetInfo, CarriedInfo, *REPLIES,
)  # fmt: skip
