"""That windows open on a real X server, and take clicks and keys there."""

from PySide6.QtCore import Qt
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QLineEdit, QPushButton, QVBoxLayout, QWidget
from pytestqt.qtbot import QtBot


def test_that_a_window_on_the_x_server_takes_clicks_and_keys(qtbot: QtBot) -> None:
    assert QGuiApplication.platformName() == "xcb"
    window, field, button = QWidget(), QLineEdit(), QPushButton("Save")
    layout = QVBoxLayout(window)
    layout.addWidget(field)
    layout.addWidget(button)
    qtbot.addWidget(window)
    with qtbot.waitExposed(window):
        window.show()
    qtbot.keyClicks(field, "3 lb 4 oz")
    with qtbot.waitSignal(button.clicked):
        qtbot.mouseClick(button, Qt.MouseButton.LeftButton)
    assert field.text() == "3 lb 4 oz"
