"""The window of Fernwright: it shows a design and what the engines of `core` say of it.

No engine lives here; what a number means and how it is found is for `core` to say.
"""
