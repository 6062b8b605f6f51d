"""The style sheet, made from the tokens."""

from string import Template

from pitjournal.ui.look import tokens
from pitjournal.ui.look.tokens import Sizes, Theme

_SHEET = Template("""
QWidget { color: $ink; }
QDialog { background: $paper; }
QScrollArea, QScrollArea > QWidget > QWidget#scrolled { background: transparent; border: 0; }
QToolTip { background: $card; color: $ink; border: ${edge}px solid $hairline; padding: 4px 8px; }

QLabel { background: transparent; }
QLabel[role="title"] { font-size: ${title}px; font-weight: 700; }
QLabel[role="over"], QLabel[role="quiet"] { font-size: ${small}px; color: $quiet; }
QLabel[role="heading"] { font-size: ${small}px; font-weight: 600; color: $quiet; }
QLabel[role="wall-clock"] { font-size: 92px; font-weight: 700; }
QLabel[role="wall-off"] { font-size: 44px; font-weight: 700; }
QLabel[role="wall-small"] { font-size: 20px; font-weight: 600; }
QLabel[role="wall-said"] { font-size: 22px; font-weight: 700; }
QDialog#wall, QFrame#wall-sheet { background: $card; }
QFrame#wall-sheet { border: 0; border-top: 5px solid $ink; }
QLabel[role="next"] { font-size: ${title}px; font-weight: 700; }
QLabel[role="next-small"] { font-size: ${due}px; font-weight: 700; }
QLabel[role="asked"] { font-size: ${large}px; font-weight: 600; }
QLabel[role="large"] { font-size: ${large}px; }
QLabel[role="strong"] { font-weight: 700; }
QLabel[role="big"] { font-size: ${title}px; font-weight: 700; }
QLabel[role="clock"] { font-size: ${clock}px; font-weight: 700; }
QLabel[role="error"] { font-size: ${small}px; color: $look; font-weight: 600; }
QLabel[role="right"] { color: $right; font-weight: 600; }
QLabel[role="ember"] { color: $ember; font-weight: 700; }

QFrame[role="card"] {
  background: $card; border: ${edge}px solid $hairline; border-radius: ${card_radius}px; }
QFrame[role="due"] {
  background: $ember_tint; border: ${due_edge}px solid $ember_edge;
  border-radius: ${card_radius}px; }
QFrame[role="alarm"] {
  background: $ember_tint; border: 3px solid $ember; border-radius: ${card_radius}px; }
QFrame[role="alarm"][ringing="true"] { background: $ember; }
QLabel[role="alarm-said"] { font-size: ${title}px; font-weight: 700; }
QLabel[role="alarm-said"][ringing="true"], QLabel[role="alarm-why"][ringing="true"] {
  color: $on_ember; }
QFrame[role="note"] {
  background: $look_tint; border: ${due_edge}px solid $look_edge;
  border-radius: ${control_radius}px; }
QFrame[role="but"] {
  background: $look_tint; border: ${edge}px solid $look; border-radius: ${card_radius}px; }
QFrame[role="rule"] { background: $hairline; border: 0; max-height: ${edge}px; }

QPushButton, QToolButton {
  background: $card; border: ${edge}px solid $hairline; border-radius: ${control_radius}px;
  padding: 0 14px; min-height: ${inner_height}px; font-weight: 600; }
QPushButton:hover, QToolButton:hover { border-color: $quiet; }
QPushButton:pressed { background: $paper; }
QPushButton:focus, QToolButton:focus { border: 2px solid $ember; }
QPushButton:disabled { color: $quiet; background: $paper; }
QPushButton[role="primary"] { background: $ember; color: $on_ember; border-color: $ember; }
QPushButton[role="primary"]:focus { border: 2px solid $ink; }
QPushButton[role="primary"]:disabled { background: $off_ground; color: $quiet;
  border-color: $hairline; }
QPushButton[role="danger"] { color: $look; border-color: $look; }
QPushButton[role="bar"] { min-height: ${bar}px; }
QPushButton[role="glove"] { min-height: ${tap_height}px; }
QPushButton[role="link"] {
  background: transparent; border: 0; color: $ember; font-weight: 700; padding: 0 2px;
  min-height: ${link}px; text-align: left; }
QPushButton[role="link"]:hover { text-decoration: underline; }
QPushButton[role="link"]:focus { border: 0; border-bottom: 2px solid $ember;
  border-radius: 0; }
QPushButton[role="wall"], QPushButton[role="wall-back"] {
  font-size: 20px; border: 3px solid $ink; border-radius: 12px; padding: 0 22px; }
QPushButton[role="wall-back"] { padding: 0 12px; }
QPushButton[role="wall-tap"], QPushButton[role="wall-due"] {
  font-size: 34px; font-weight: 700; border: 4px solid $ink;
  border-radius: ${tap_radius}px; padding: 0 8px; }
QPushButton[role="wall-due"] { background: $ember; color: $on_ember; border-color: $ember; }
QPushButton[role="wall"]:focus, QPushButton[role="wall-back"]:focus,
QPushButton[role="wall-tap"]:focus { border-color: $ember; }
QPushButton[role="wall-due"]:focus { border-color: $ink; }
QPushButton[role="chip"] {
  border-radius: 15px; min-height: ${cell}px; padding: 0 12px; font-weight: 400;
  font-size: ${small}px; }
QPushButton[role="chip"]:checked { background: $ink; color: $card; border-color: $ink; }
QTabBar::tab {
  background: transparent; border: 0; border-bottom: 3px solid transparent;
  color: $quiet; min-height: ${glove}px; padding: 0 14px; }
QTabBar::tab:selected { color: $ink; font-weight: 700; border-bottom-color: $ember; }
QTabBar::tab:selected:focus { color: $ember; border: 2px solid $ember;
  border-bottom: 3px solid $ember; }
QPushButton[role="rail"] {
  background: transparent; border: 0; color: $rail_ink; border-radius: ${control_radius}px;
  font-size: ${small}px; font-weight: 400; min-height: ${rail_height}px; padding: 0; }
QPushButton[role="rail"]:checked { background: $rail_chosen; color: $rail_bright; }
QPushButton[role="rail"]:focus { border: 2px solid $rail_ink; }

QLineEdit, QPlainTextEdit, QComboBox, QDateTimeEdit {
  background: $card; border: ${edge}px solid $field; border-radius: ${control_radius}px;
  padding: 0 10px; min-height: ${inner_height}px; placeholder-text-color: $quiet; selection-background-color: $ember;
  selection-color: $on_ember; }
QPlainTextEdit { padding: 6px 8px; }
QLineEdit:focus, QPlainTextEdit:focus, QComboBox:focus { border: 2px solid $ember; }
QLineEdit[wrong="true"] { border: 2px solid $look; background: $look_tint; }
QLineEdit:read-only, QLineEdit:disabled { background: transparent; color: $quiet; }
QLineEdit[role="cell"] { border-radius: 6px; padding: 0 6px; min-height: ${cell}px; }
QLineEdit[role="sentence"] {
  border: 2px solid $ember; font-size: ${due}px; min-height: ${sentence}px; padding: 0 16px; }
QComboBox[role="cell"] { border-radius: 6px; padding: 0 0 0 6px; min-height: ${cell}px; }
QComboBox::drop-down { border: 0; width: ${drop}px; }
QComboBox QAbstractItemView, QListView[role="popup"] {
  background: $card; border: ${edge}px solid $hairline; selection-background-color: $chosen;
  selection-color: $on_chosen; outline: 0; padding: 4px; }

QWidget[gloves="true"] QPushButton, QWidget[gloves="true"] QLineEdit,
QWidget[gloves="true"] QComboBox { min-height: ${glove}px; }
QWidget[gloves="true"] QPushButton[role="glove"] { min-height: ${tap_height}px; }
QWidget[gloves="true"] QPushButton[role="link"] { min-width: ${inner_glove}px; }

QWidget[gloves="true"] QPushButton[role="wall"] { min-height: 50px; }
QWidget[gloves="true"] QPushButton[role="wall-back"] { min-height: 90px; }
QWidget[gloves="true"] QPushButton[role="wall-tap"],
QWidget[gloves="true"] QPushButton[role="wall-due"] { min-height: 96px; }

QTableView, QListView {
  background: transparent; border: 0; gridline-color: $hairline; outline: 0;
  selection-background-color: $chosen; selection-color: $on_chosen; }
QTableView:focus, QListView:focus { border: 0; }
QHeaderView { background: transparent; }
QHeaderView::section {
  background: transparent; color: $quiet; font-size: ${small}px; font-weight: 600; border: 0;
  border-bottom: ${edge}px solid $hairline; padding: 6px 8px; }
QTableCornerButton::section { background: transparent; border: 0; }

QScrollBar:vertical { background: transparent; width: 10px; margin: 0; }
QScrollBar:horizontal { background: transparent; height: 10px; margin: 0; }
QDialog#overlay QScrollBar:vertical { width: 18px; margin: 0 0 0 8px; }
QScrollBar::handle { background: $hairline; border-radius: 5px; min-height: 36px;
  min-width: 36px; }
QScrollBar::handle:hover { background: $quiet; }
QScrollBar::add-line, QScrollBar::sub-line { height: 0; width: 0; }
QScrollBar::add-page, QScrollBar::sub-page { background: transparent; }

QProgressBar { background: $grid; border: 0; border-radius: 4px; max-height: 8px; }
QProgressBar::chunk { background: $ember; border-radius: 4px; }
QCheckBox { spacing: 8px; background: transparent; }
QCheckBox::indicator { width: ${tick}px; height: ${tick}px; border: 2px solid $quiet; border-radius: 5px;
  background: $card; }
QCheckBox::indicator:checked { background: $ember; border-color: $ember; }
QCheckBox:focus { color: $ember; }
QMenu { background: $card; border: ${edge}px solid $hairline; padding: 6px; }
QMenu::item { padding: 8px 18px; border-radius: 6px; }
QMenu::item:selected { background: $chosen; color: $on_chosen; }
QFrame#rail { background: $rail; border: 0; }
QDialog#overlay, QFrame#overlay { background: $card; border: 2px solid $ink; border-radius: ${card_radius}px; }
""")


def sheet(theme: Theme, sizes: Sizes) -> str:
    """Return the style sheet of a theme at a text size; the font is the application's own."""
    sun = theme.name == "sun"
    px, high = sizes.px, sizes.high
    return _SHEET.substitute(
        {name: value for name, value in vars(theme).items() if isinstance(value, str | int)},
        tap_height=high(tokens.TAP_HEIGHT),
        glove=high(tokens.GLOVE),
        inner_glove=high(tokens.GLOVE - 4),
        small=px(tokens.SMALL),
        large=px(tokens.LARGE),
        due=px(tokens.DUE),
        title=px(tokens.TITLE),
        clock=px(tokens.CLOCK),
        tap_radius=tokens.TAP_RADIUS,
        card_radius=tokens.CARD_RADIUS,
        control_radius=tokens.CONTROL_RADIUS,
        inner_height=high(tokens.CONTROL_HEIGHT - 2 * theme.edge),
        cell=high(28),
        bar=high(30),
        link=high(26),
        sentence=high(50),
        rail_height=high(60),
        tick=px(18),
        drop=px(22),
        chosen=theme.ink if sun else theme.ember_tint,  # the tint of the sun is white
        on_chosen=theme.card if sun else theme.ink,
        due_edge=2 if sun else 1,
        ember_edge=theme.ember if sun else theme.ember_tint,
        look_edge=theme.look if sun else theme.look_tint,
        off_ground=theme.card if sun else theme.hairline,
    )
