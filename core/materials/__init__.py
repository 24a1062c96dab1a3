"""Materials: the list of parts to get, with their prices.

Frame members, sheets and their cut lists are not here yet; what running costs is in `core.cost`.
"""
