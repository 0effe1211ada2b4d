"""Instruments read digitally: bytes and registers in, values out, with no port or socket opened here."""
