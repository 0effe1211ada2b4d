"""Which part may be wrong: readings of a tank and its loop in, ranked explanations out, as text, data and paper.

Command line and pages call the same functions.
"""
