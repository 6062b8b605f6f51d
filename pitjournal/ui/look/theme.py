"""The look in force: theme, text size, fonts, the style sheet; one signal when it changes."""

from collections.abc import Callable
from functools import lru_cache
from typing import TypeVar, cast

from PySide6.QtCore import QObject, QRect, QRectF, Qt, Signal
from PySide6.QtGui import QColor, QFont, QFontDatabase, QFontMetricsF, QPainter, QPalette
from PySide6.QtWidgets import QApplication, QWidget

from pitjournal.resource_files import resource_path
from pitjournal.ui.look import tokens
from pitjournal.ui.look.restyling import Restyling
from pitjournal.ui.look.style import sheet
from pitjournal.ui.look.tokens import LIGHT, NIGHT, TEXT_SIZES, THEMES, Sizes, Theme

FAMILY = "Atkinson Hyperlegible Next"
FILES = ("Regular", "SemiBold", "Bold")
CHOICES = ("system", *THEMES)
W = TypeVar("W", bound=QWidget)


class Look(QObject):
    """The look of this process; `look()` is the one there is.

    Signals
    -------
    changed()
        Painted parts paint again; widgets get the new style sheet by themselves.
    resized()
        Words have another size: what was measured by them is measured anew. `changed` follows.
    """

    changed = Signal()
    resized = Signal()

    def __init__(self) -> None:
        super().__init__()
        self.theme: Theme = LIGHT
        self.sizes = Sizes()
        self._styled: Sizes | None = None
        self.restyling = Restyling()
        self.choice = "system"
        self.text = TEXT_SIZES[0]
        self._family = ""

    def start(self, application: QApplication, choice: str, text: str = TEXT_SIZES[0]) -> None:
        """Load the fonts and style the application; call once, before the first widget."""
        for name in FILES:
            try:
                path = resource_path(f"fonts/AtkinsonHyperlegibleNext-{name}.ttf")
            except FileNotFoundError:
                continue
            QFontDatabase.addApplicationFont(str(path))
        family = FAMILY if FAMILY in QFontDatabase.families() else ""
        another = family != self._family  # what was styled before has letters of the system's
        self._family = family
        application.setStyle("Fusion")
        application.styleHints().colorSchemeChanged.connect(self._follow)
        self.choose(choice)
        self.choose_text(text)
        if another or application.styleSheet() != sheet(self.theme, self.sizes):
            self._styled = None  # all there is, and all that comes, is styled from here
            self.restyle()

    def choose(self, choice: str) -> None:
        """Take a theme by name; "system", or a name from a newer version, follows the system."""
        self.choice = choice if choice in CHOICES else "system"
        self._follow()

    def next(self) -> str:
        """Take the next theme and return its name."""
        names = list(THEMES)
        self.choose(names[(names.index(self.theme.name) + 1) % len(names)])
        return self.choice

    def choose_text(self, text: str) -> None:
        """Take a text size by its per cent; one that there is not is 100 %."""
        self.text = text if text in TEXT_SIZES else TEXT_SIZES[0]
        sizes = Sizes(int(self.text) / 100)
        if sizes != self.sizes:
            self.sizes = sizes
            self.restyle()

    def larger(self, by: int) -> str:
        """Take the next larger text size, or with −1 the next smaller; return it."""
        place = TEXT_SIZES.index(self.text) + by
        self.choose_text(TEXT_SIZES[min(max(place, 0), len(TEXT_SIZES) - 1)])
        return self.text

    def _follow(self) -> None:
        theme = THEMES.get(self.choice)
        if theme is None:
            scheme = QApplication.styleHints().colorScheme()
            theme = NIGHT if scheme is Qt.ColorScheme.Dark else LIGHT
        application = cast("QApplication | None", QApplication.instance())
        if application is None or (theme is self.theme and application.styleSheet()):
            return
        self.theme = theme
        self.restyle()

    def restyle(self, *, anew: bool = False) -> None:
        """Give all widgets there are the fonts, the colours and the sizes.

        `anew` measures words again though their size is the same: the font is another.
        """
        application = cast("QApplication | None", QApplication.instance())
        if application is None:
            return
        font.cache_clear()
        self._restyle(application, anew=anew)

    def _restyle(self, application: QApplication, *, anew: bool) -> None:
        wanted = sheet(self.theme, self.sizes)
        application.setPalette(palette(self.theme))
        if anew or self._styled != self.sizes:
            self._styled = self.sizes
            application.setFont(letters())
            self.restyling.restyle_all(application, wanted)
            self.resized.emit()
        else:
            self.restyling.restyle_seen(application, wanted)
        self.changed.emit()

    @property
    def family(self) -> str:
        """The family of the bundled font, or "" for the system's own."""
        return self._family


@lru_cache(maxsize=1)
def look() -> Look:
    """Return the look of this process."""
    return Look()


@lru_cache(maxsize=64)
def font(
    size: int = tokens.BODY, weight: QFont.Weight = QFont.Weight.Normal, *, tabular: bool = False
) -> QFont:
    """Return the font of a size, px, to paint with; `tabular` figures stand in columns.

    What is painted is enlarged as a whole (`at_size`); what a widget writes is in `letters`.
    """
    found = QFont()
    if look().family:
        found.setFamily(look().family)
    found.setPixelSize(size)
    found.setWeight(weight)
    if tabular:
        found.setFeature(QFont.Tag("tnum"), 1)
    return found


def letters(
    size: int = tokens.BODY, weight: QFont.Weight = QFont.Weight.Normal, *, tabular: bool = False
) -> QFont:
    """Return the font in which a widget writes: that of a size at 100 %, in the text size set."""
    return font(px(size), weight, tabular=tabular)


def letters_wider() -> float:
    """Return how much wider letters are than the face has them: a system may widen them all."""
    face = QFont(font())
    now = QFontMetricsF(face).horizontalAdvance(face.family())
    face.setStretch(QFont.Stretch.Unstretched.value)
    plain = QFontMetricsF(face).horizontalAdvance(face.family())
    return now / plain if plain else 1.0


def px(at_100: float) -> int:
    """Return px on the screen of a size that goes with the words, from px at 100 %."""
    return look().sizes.px(at_100)


def high(at_100: float, lines: int = 1) -> int:
    """Return the height of what holds so many lines of words, from that at 100 %; px."""
    return look().sizes.high(at_100, lines)


def at_size(painter: QPainter, room: QRect) -> QRectF:
    """Let a painter paint in px at 100 % from a corner on; return the room there is in them.

    What is painted in it, words, marks and strokes, is of the text size that is set.
    """
    scale = look().sizes.scale
    painter.translate(room.topLeft())
    painter.scale(scale, scale)
    return QRectF(0, 0, room.width() / scale, room.height() / scale)


_SETTERS: dict[str, Callable[[QWidget, int], object]] = {
    "least_width": QWidget.setMinimumWidth,
    "least_height": QWidget.setMinimumHeight,
    "most_width": QWidget.setMaximumWidth,
    "most_height": QWidget.setMaximumHeight,
    "width": QWidget.setFixedWidth,
    "height": QWidget.setFixedHeight,
}


class _Fit(QObject):
    """Gives a widget, its parent, its sizes again whenever another is chosen; dies with it."""

    def __init__(self, widget: QWidget) -> None:
        super().__init__(widget)
        self.wanted: dict[str, float] = {}
        self.lines = 0
        self.tabular = False
        look().resized.connect(self.fit)

    def fit(self) -> None:
        """Give the widget what it wants at the text size that is set."""
        widget = self.parent()  # not kept: a ring of two would outlive what let go of it
        assert isinstance(widget, QWidget)
        for name, size in _SETTERS.items():
            if name in self.wanted:
                lines = self.lines if name.endswith("height") else 0
                at_100 = self.wanted[name]
                size(widget, high(at_100, lines) if lines else px(at_100))
        if self.tabular:
            widget.setFont(letters(tabular=True))
            if widget.property("role"):  # its size is that of its role, not of what was just set
                widget.style().polish(widget)


def _fit_of(widget: QWidget) -> _Fit:
    direct = Qt.FindChildOption.FindDirectChildrenOnly
    return widget.findChild(_Fit, options=direct) or _Fit(widget)


def sized(widget: W, *, lines: int = 0, **wanted: float) -> W:
    """Give a widget sizes that go with the text size, now and when another is chosen.

    Parameters
    ----------
    lines
        How many lines of words its heights hold, whose growth they take; 0: they grow wholly.
    wanted
        ``width``, ``height`` (fixed), ``least_width``, ``most_height`` and so on; px at 100 %.
    """
    fit = _fit_of(widget)
    fit.wanted.update(wanted)
    fit.lines = lines or fit.lines
    fit.fit()
    return widget


def tabular(widget: W) -> W:
    """Let the figures that a widget writes stand in columns."""
    fit = _fit_of(widget)
    fit.tabular = True
    fit.fit()
    return widget


def bold_letters(size: int = tokens.BODY, *, tabular: bool = False) -> QFont:
    """Return the bold font in which a widget writes, in the text size set."""
    return letters(size, QFont.Weight.Bold, tabular=tabular)


def bold(size: int = tokens.BODY, *, tabular: bool = False) -> QFont:
    """Return the bold font of a size, px."""
    return font(size, QFont.Weight.Bold, tabular=tabular)


def colour(value: str, alpha: float = 1.0) -> QColor:
    """Return a token's colour, with an opacity of 0 to 1."""
    found = QColor(value)
    found.setAlphaF(alpha)
    return found


def palette(theme: Theme) -> QPalette:
    """Return the palette for what no style sheet reaches."""
    found = QPalette()
    role = QPalette.ColorRole
    for place, value in (
        (role.Window, theme.paper),
        (role.WindowText, theme.ink),
        (role.Base, theme.card),
        (role.AlternateBase, theme.paper),
        (role.Text, theme.ink),
        (role.Button, theme.card),
        (role.ButtonText, theme.ink),
        (role.ToolTipBase, theme.card),
        (role.ToolTipText, theme.ink),
        (role.Highlight, theme.ember),
        (role.HighlightedText, theme.on_ember),
        (role.PlaceholderText, theme.quiet),
        (role.Link, theme.ember),
        (role.Mid, theme.hairline),
    ):
        found.setColor(place, QColor(value))
    return found
