"""The theme in force: fonts, colours, the style sheet; one signal when it changes."""

from functools import lru_cache
from typing import cast

from PySide6.QtCore import QObject, Qt, Signal
from PySide6.QtGui import QColor, QFont, QFontDatabase, QPalette
from PySide6.QtWidgets import QApplication

from pitjournal.resource_files import resource_path
from pitjournal.ui.look import tokens
from pitjournal.ui.look.style import sheet
from pitjournal.ui.look.tokens import LIGHT, NIGHT, THEMES, Theme

FAMILY = "Atkinson Hyperlegible Next"
FILES = ("Regular", "SemiBold", "Bold")
CHOICES = ("system", *THEMES)


class Look(QObject):
    """The look of this process; `look()` is the one there is.

    Signals
    -------
    changed()
        Painted parts paint again; widgets get the new style sheet by themselves.
    """

    changed = Signal()

    def __init__(self) -> None:
        super().__init__()
        self.theme: Theme = LIGHT
        self.choice = "system"
        self._family = ""

    def start(self, application: QApplication, choice: str) -> None:
        """Load the fonts and dress the application; call once, before the first widget."""
        for name in FILES:
            try:
                path = resource_path(f"fonts/AtkinsonHyperlegibleNext-{name}.ttf")
            except FileNotFoundError:
                continue
            QFontDatabase.addApplicationFont(str(path))
        self._family = FAMILY if FAMILY in QFontDatabase.families() else ""
        application.setStyle("Fusion")
        application.styleHints().colorSchemeChanged.connect(self._follow)
        self.choose(choice)

    def choose(self, choice: str) -> None:
        """Take a theme by name; "system", or a name from a newer version, follows the system."""
        self.choice = choice if choice in CHOICES else "system"
        self._follow()

    def next(self) -> str:
        """Take the next theme and return its name."""
        names = list(THEMES)
        self.choose(names[(names.index(self.theme.name) + 1) % len(names)])
        return self.choice

    def _follow(self) -> None:
        theme = THEMES.get(self.choice)
        if theme is None:
            scheme = QApplication.styleHints().colorScheme()
            theme = NIGHT if scheme is Qt.ColorScheme.Dark else LIGHT
        application = cast("QApplication | None", QApplication.instance())
        if application is None or (theme is self.theme and application.styleSheet()):
            return
        self.theme = theme
        font.cache_clear()
        application.setFont(font())
        application.setPalette(palette(theme))
        application.setStyleSheet(sheet(theme))
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
    """Return the font of a size, px; `tabular` figures stand in columns."""
    found = QFont(look().family) if look().family else QFont()
    found.setPixelSize(size)
    found.setWeight(weight)
    if tabular:
        found.setFeature(QFont.Tag("tnum"), 1)
    return found


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
