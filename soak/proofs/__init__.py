"""The proofs, one module each, with two names that ``soak`` looks for:

    NAME = "stem_length"            # the page becomes docs/proofs/stem_length.md

    def run() -> Report:            # from soak.report
        ...

What a report says must come out the same on every machine and every day: seeds are fixed, numbers are rounded to what
is claimed, and neither dates nor times taken appear. A proof that does not hold is reported with ``holds=False``; it
is written down all the same, and the command fails.
"""
