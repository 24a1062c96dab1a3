"""What the program reads but nobody computes: catalogue, demos, fonts, icons, translations.

Files only, found through `importlib.resources`; the code that reads them is in `core` and `gui`.
"""
