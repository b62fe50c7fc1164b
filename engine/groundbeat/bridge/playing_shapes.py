"""Of what shape are the replies about playing? For the generated types and the tests, as `shapes`."""

from typing import Literal, TypedDict

Limb = Literal["right hand", "left hand", "right foot", "left foot"]


class LimbInfo(TypedDict):
    """Who plays a stroke: the limb, its letter, whether the hand is pinned to it, and (of hands) the stroke type."""

    id: str
    limb: Limb
    letter: Literal["R", "L"]
    pinned: bool
    type: Literal["full", "down", "tap", "up", ""]


class VerdictInfo(TypedDict):
    """Whether a person can play it at the tempo: "impossible" is what no limb is left for, "beyond" faster than any
    floor."""

    playable: bool
    kind: Literal["playable", "impossible", "beyond"]
    text: str


class TroubleInfo(TypedDict):
    """What cannot be played, where, and at which tempo it could be (None: at none)."""

    at: int
    bar: int
    count: str
    kind: str
    text: str
    ids: list[str]
    possible_at: int | None


class TempoLimitInfo(TypedDict):
    """A tempo in beats a minute up to which something holds (None: at none), and what sets it."""

    bpm: int | None
    because: str


class SpotInfo(TypedDict):
    """A tricky spot: where, why, its strokes, and the fewest strokes whose leaving out removes it."""

    at: int
    bar: int
    count: str
    kind: str
    text: str
    ids: list[str]
    leave_out: list[str]
    leave_out_text: str


class DemandInfo(TypedDict):
    """A part of what a stage asks, 0 to 100, with that of the stage before it."""

    part: Literal["density", "independence", "syncopation", "speed", "reach", "dynamics", "newness"]
    value: int
    before: int | None
    text: str


class HomeInfo(TypedDict):
    """How far a stage is from the base beat, 0 to 100, and what became of the base beat's strokes."""

    stage: int
    distance: int
    kept: int
    moved: int
    altered: int
    covered: int
    gone: int
    text: str


class PlayingReply(TypedDict):
    """Who plays what in a stage at a tempo, how fast it can go, and what is hard about it."""

    answer: Literal["playing"]
    stage: int
    tempo: float
    player: str
    limbs: list[LimbInfo]
    verdict: VerdictInfo
    troubles: list[TroubleInfo]
    fastest: TempoLimitInfo
    comfortable: TempoLimitInfo
    spots: list[SpotInfo]
    demand: list[DemandInfo]
    home: list[HomeInfo]


class PlanStepInfo(TypedDict):
    """A step of a practice plan: the stage, perhaps in turn with the stage `against`; from tick `start` to before `end`
    (None: the whole loop); `ids` are the strokes that sound (None: all); `own` bars of one's own follow on as many of
    the beat (0: none)."""

    title: str
    do: str
    listen: str
    stage: int
    against: int | None
    start: int | None
    end: int | None
    ids: list[str] | None
    tempos: list[float]
    passes: int
    minutes: int
    own: int


class PlanReply(TypedDict):
    """How to practise a stage, from one tempo to another; `reduced` are the strokes that sound in its reduced form, for
    the goal while that is far ([]: there is none)."""

    answer: Literal["plan"]
    title: str
    stage: int
    start: float
    goal: float
    minutes: int
    steps: list[PlanStepInfo]
    cautions: list[str]
    reduced: list[str]


class PartChange(TypedDict):
    """A part of the demand before and after."""

    part: str
    before: int
    after: int


class SuggestionInfo(TypedDict):
    """A variation that could be taken: settings of the one with key `key`, or (0) a new one behind the one with key
    `after`."""

    kind: str
    heading: str
    settings: str
    key: int
    after: int
    plain: str
    why: str
    fastest: int | None
    comfortable: int | None
    parts: list[PartChange]


class SuggestReply(TypedDict):
    """What could come next, the wishes that can be said, and remarks."""

    answer: Literal["suggest"]
    wishes: list[str]
    suggestions: list[SuggestionInfo]
    says: list[str]


class LimbCount(TypedDict):
    """The strokes that a limb makes in the time of the test (None: not counted), and what that means."""

    limb: Limb
    count: int | None
    text: str


class PlayerReply(TypedDict):
    """A player as text in the one form that is kept, the words that can be said of one, and those that are; how long
    strokes are counted, and how many can be meant."""

    answer: Literal["player"]
    player: str
    words: list[str]
    has: list[str]
    limbs: list[LimbCount]
    seconds: int
    fewest: int
    most: int


REPLIES = (PlayingReply, PlanReply, SuggestReply, PlayerReply)
SHAPES = (
    LimbInfo, VerdictInfo, TroubleInfo, TempoLimitInfo, SpotInfo, DemandInfo, HomeInfo, PlanStepInfo, PartChange,
    SuggestionInfo, LimbCount, *REPLIES,
)  # fmt: skip
