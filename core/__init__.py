"""The engines and the model behind Fernwright, free of Qt.

Nothing here knows of a window; the `gui` package builds on this one, never the other way round.
"""

__version__ = "0.1.0"
