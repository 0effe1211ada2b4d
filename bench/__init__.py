"""Measurements against a peer in the same run: ``python3 dev.py bench [names]``.

Each module here but ``race`` holds one subject and has a function ``races()`` that returns its races. To add one, add
a file: the module's name is the name by which it is called.
"""
