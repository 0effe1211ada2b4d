"""Measurements against a peer in the same run: ``python3 dev.py bench [names]``.

Each module here but ``race`` holds one subject and has a function ``races()`` that returns its races, and figures where
a goal is no ratio. To add one, add a file: the module's name is the name by which it is called.
"""
