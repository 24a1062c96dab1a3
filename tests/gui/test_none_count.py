"""A guard: Qt calls must leave the reference counts of None, True and False as they were.

PySide6 6.12.0 on Python 3.11 loses one reference or two a call (measured: each kind of call below,
None or True) and then aborts. From Python 3.12 on the three are immortal, so cannot be miscounted.
"""

from __future__ import annotations

import subprocess
import sys

import pytest

PROBE = """
import sys
from PySide6.QtCore import QCoreApplication, QEvent, QObject, QTimer, Signal, Slot
from PySide6.QtGui import QUndoCommand, QUndoStack
from PySide6.QtWidgets import QApplication, QGraphicsRectItem, QGraphicsScene, QWidget

app = QApplication([])

class Source(QObject):
    plain = Signal()
    carrying = Signal(object)

    @Slot()
    def hear(self):
        pass

    @Slot(object)
    def take(self, value):
        return None

class Widget(QWidget):
    def changeEvent(self, event):
        return None

class Edit(QUndoCommand):
    def redo(self):
        pass

    def undo(self):
        pass

class Item(QGraphicsRectItem):
    def itemChange(self, change, value):
        return super().itemChange(change, value)

source, widget, stack, scene, item = Source(), Widget(), QUndoStack(), QGraphicsScene(), Item()
source.plain.connect(source.hear)
source.carrying.connect(source.take)
item.setFlag(Item.GraphicsItemFlag.ItemSendsGeometryChanges)
scene.addItem(item)

def push_and_undo():
    stack.push(Edit())
    stack.undo()

def wait_for_timer():
    QTimer.singleShot(0, lambda: None)
    app.processEvents()

CALLS = {
    "a signal": source.plain.emit,
    "a signal with None": lambda: source.carrying.emit(None),
    "a virtual call": lambda: QCoreApplication.sendEvent(widget, QEvent(QEvent.Type.FontChange)),
    "a setter": lambda: widget.setToolTip("text"),
    "a getter": widget.layout,
    "an undo step": push_and_undo,
    "a moved item": lambda: item.setPos(item.x() + 1, 0),
    "a timer": wait_for_timer,
}

def counts():
    return {str(one): sys.getrefcount(one) for one in (None, True, False)}

for name, call in CALLS.items():
    call()
    before = counts()
    for _ in range(2000):
        call()
    after = counts()
    for one in before:
        print(name, "changes", one, "by", after[one] - before[one], flush=True)
"""


@pytest.mark.skipif(sys.version_info >= (3, 12), reason="None is immortal from Python 3.12 on")
def test_qt_calls_keep_the_reference_counts_of_none_true_and_false():
    probe = subprocess.run([sys.executable, "-c", PROBE], capture_output=True, text=True)
    drifts = [line for line in probe.stdout.splitlines() if abs(int(line.split()[-1])) > 20]

    assert probe.returncode == 0, probe.stdout + probe.stderr
    assert len(probe.stdout.splitlines()) == 8 * 3
    assert drifts == []
