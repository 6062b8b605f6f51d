"""What a cook summary says: words and numbers ready for a page, at a chosen level of detail."""

from collections.abc import Iterator
from dataclasses import dataclass, field
from enum import StrEnum

from pitjournal.domain.day.ribbon import Ribbon
from pitjournal.domain.plate import Plate


class Detail(StrEnum):
    """How much of a recipe leaves."""

    NAMES = "names"
    RATIOS = "ratios"
    GRAMS = "grams"


class PrivatePart(StrEnum):
    """What stays at home unless it is asked for."""

    PLACE = "place"
    TIMES = "times"
    SUPPLIER = "supplier"
    TASTERS = "tasters"
    NOTES = "notes"
    COSTS = "costs"
    DEVICE = "device"
    PHOTOS = "photos"


@dataclass(frozen=True)
class Choice:
    """What the cook lets out: the detail of recipes, and the parts that are private otherwise.

    `clockless` takes the clock times out of a bundle, which has them otherwise; a summary has
    them only where `parts` does.
    """

    detail: Detail = Detail.NAMES
    parts: frozenset[PrivatePart] = frozenset()
    clockless: bool = False

    def __contains__(self, part: PrivatePart) -> bool:
        return part in self.parts

    @property
    def ratios(self) -> bool:
        """Whether shares of a recipe leave."""
        return self.detail is not Detail.NAMES

    @property
    def grams(self) -> bool:
        """Whether amounts of a recipe leave."""
        return self.detail is Detail.GRAMS


@dataclass(frozen=True)
class SummaryArm:
    """An arm. `look` is the number of its colour and shape; 0 is the control."""

    name: str
    look: int
    treated: str
    control: bool = False


@dataclass(frozen=True)
class TableColumn:
    """A column of a table.

    Attributes
    ----------
    label
        What stands over it.
    cells
        The words of each row, with units where they differ from row to row.
    unit
        The unit of every number in it; "" when there is none or the cells carry theirs.
    numbers
        The same as bare numbers in `unit`, for a spreadsheet; None when it is words.
    """

    label: str
    cells: tuple[str, ...]
    unit: str = ""
    numbers: tuple[float | None, ...] | None = None

    @property
    def head(self) -> str:
        """Label and unit."""
        return f"{self.label}, {self.unit}" if self.unit else self.label

    @property
    def right(self) -> bool:
        """Whether it is set to the right, as numbers are."""
        return self.numbers is not None


@dataclass(frozen=True)
class SummaryTable:
    """A table of columns of equal length; `looks` marks each row with its arm, if it has one."""

    title: str
    columns: tuple[TableColumn, ...]
    looks: tuple[int | None, ...] = ()
    foot: str = ""

    @property
    def rows(self) -> Iterator[tuple[int | None, tuple[str, ...]]]:
        """Each row: its arm's look, and its cells."""
        cells = zip(*(column.cells for column in self.columns), strict=True)
        for place, row in enumerate(cells):
            yield (self.looks[place] if self.looks else None), row

    def __bool__(self) -> bool:
        return any(column.cells for column in self.columns)


@dataclass(frozen=True)
class Points:
    """The raw outcome of each arm's pieces: ``(label, block, value)`` each, and the mean."""

    look: int
    name: str
    points: tuple[tuple[str, str, float], ...]
    mean: float | None


@dataclass(frozen=True)
class PointChart:
    """Raw outcomes by arm."""

    title: str
    unit: str
    arms: tuple[Points, ...]


@dataclass(frozen=True)
class Interval:
    """An arm's difference from the control: estimate, 95 % limits where they exist, in words."""

    look: int
    name: str
    estimate: float
    low: float | None
    high: float | None
    words: str


@dataclass(frozen=True)
class IntervalChart:
    """Differences from the control."""

    title: str
    unit: str
    intervals: tuple[Interval, ...]


@dataclass(frozen=True)
class Curve:
    """A temperature over time: hours since the first on, display units; no look: the pit."""

    name: str
    look: int | None
    hours: tuple[float, ...]
    values: tuple[float, ...]


@dataclass(frozen=True)
class CurveChart:
    """Temperatures over time, with what happened when ``(hours, words)``."""

    title: str
    unit: str
    curves: tuple[Curve, ...]
    marks: tuple[tuple[float, str], ...] = ()


@dataclass(frozen=True)
class RibbonChart:
    """The day as a ribbon: by the clock of a `zone`, else in time from `begun`, s since 1970."""

    title: str
    ribbon: Ribbon
    zone: str
    begun: float


@dataclass(frozen=True)
class PlateChart:
    """What the cook showed at a glance, and the lines that stand below it.

    Attributes
    ----------
    plate
        An arm a row.
    but
        What has to be known beside the answer.
    following
        The cook that would tell most next, in a sentence.
    conclusion, concluded
        The cook's own, as written, and when that was.
    """

    plate: Plate
    but: str = ""
    following: str = ""
    conclusion: str = ""
    concluded: str = ""


@dataclass(frozen=True)
class Caution:
    """A fact of safety: reached, not reached or unknown, with its source."""

    fact: str
    state: str
    source: str


@dataclass(frozen=True)
class SummaryPhoto:
    """A picture, small, upright and without what its camera wrote into it."""

    caption: str
    media_type: str
    data: bytes


@dataclass(frozen=True)
class AnsweredQuestion:
    """A question to all cooks: the sentence that asks it, and what it was answered.

    `link` asks the same of another journal; `words` say what the answer rests on.
    """

    sentence: str
    link: str
    table: SummaryTable
    words: tuple[str, ...] = ()


@dataclass(frozen=True)
class Summary:
    """One cook, ready for a page."""

    title: str
    under_title: str
    question: str
    words: tuple[str, ...]
    protects: tuple[str, ...]
    arms: tuple[SummaryArm, ...]
    facts: tuple[tuple[str, str], ...]
    tables: tuple[SummaryTable, ...]
    pieces: SummaryTable
    plate: PlateChart | None = None
    points: PointChart | None = None
    intervals: IntervalChart | None = None
    curves: CurveChart | None = None
    day: RibbonChart | None = None
    cautions: tuple[Caution, ...] = ()
    usual: tuple[str, ...] = ()
    deference: str = ""
    notes: tuple[str, ...] = ()
    photos: tuple[SummaryPhoto, ...] = ()
    asked: tuple[AnsweredQuestion, ...] = ()
    leaves: tuple[str, ...] = field(default=())
    left_out: tuple[str, ...] = field(default=())
