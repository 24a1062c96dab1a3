"""Air moving through a whole enclosure, computed cell by cell, free of any Design.

`scene` says what there is, `solve` computes it and `field` is the answer; nothing here knows a
part of the model. Modules whose name ends in ``_kernels`` load numba, all others do so late.
"""
