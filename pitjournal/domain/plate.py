"""The verdict plate: what a cook showed at a glance, an arm a row, ready to be laid out.

Numbers are in the cook's units, so that whoever draws it needs neither units nor a journal.
"""

from dataclasses import dataclass

NOT_FELT = "not felt"


@dataclass(frozen=True)
class PlatePoint:
    """A piece: its label, the pack it came in ("" for none), its value in the cook's units."""

    label: str
    pack: str
    value: float


@dataclass(frozen=True)
class Reach:
    """A difference from the control with its 95 % interval where there is one, cook's units."""

    words: str
    estimate: float
    low: float | None
    high: float | None


@dataclass(frozen=True)
class Stay:
    """How long a piece stayed right, min: at least, and perhaps up to.

    `least` None: it was not felt right; `most` None: its end was not seen.
    """

    label: str
    least: float | None
    most: float | None
    off_right: bool


@dataclass(frozen=True)
class PlateRow:
    """An arm: the answer in large words, what it rests on in one line, and what is drawn of it."""

    name: str
    look: int
    control: bool
    verdict: str
    line: str
    tells: bool = False
    points: tuple[PlatePoint, ...] = ()
    mean: float | None = None
    this: Reach | None = None
    joined: Reach | None = None
    stays: tuple[Stay, ...] = ()
    stayed: str = NOT_FELT

    @property
    def sentence(self) -> str:
        """What it says, to be read out or copied."""
        said = f"{self.name}: {self.verdict[:1].lower()}{self.verdict[1:]}; {self.line}"
        return f"{said.rstrip('; .')}. Stayed right: {self.stayed}."


@dataclass(frozen=True)
class Plate:
    """What a cook showed.

    Attributes
    ----------
    rows
        The arms, the control first; none where nothing was compared.
    lead
        What is said in large words where there are no rows.
    measure
        What the axis of points is, such as "Tenderness, 1 to 9".
    unit
        What one mark of it is, such as "points".
    noun
        What one piece is called.
    """

    rows: tuple[PlateRow, ...] = ()
    lead: tuple[str, ...] = ()
    measure: str = ""
    unit: str = ""
    noun: str = "piece"

    @property
    def control(self) -> PlateRow | None:
        """The arm that the others are held against."""
        return next((row for row in self.rows if row.control), None)

    @property
    def packed(self) -> bool:
        """Whether pieces came in packs that hold several arms."""
        packs = [{point.pack for point in row.points if point.pack} for row in self.rows]
        return any(one & two for place, one in enumerate(packs) for two in packs[place + 1 :])

    @property
    def felt(self) -> bool:
        """Whether any piece was felt right."""
        return any(row.stays for row in self.rows)
