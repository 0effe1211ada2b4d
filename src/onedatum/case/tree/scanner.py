"""The YAML scanner with a quicker look at where a key may have begun; what it finds is the same.

A key without ``?`` is seen by its colon, so the scanner keeps every place where one may have begun, one for each open
bracket, until the line ends or 1,024 characters have passed. Its own loops look through all of them for each token: a
line of brackets costs a thousand steps a bracket. They stand in the order they began in, so the first tells enough.
"""

from __future__ import annotations

from functools import cached_property
from typing import Any

from ruamel.yaml.parser import Parser
from ruamel.yaml.scanner import Scanner, ScannerError

LONGEST_KEY = 1024
"""Characters from the begin of a key to its colon: YAML 1.2.2, 7.4.2 and 8.2.2."""


class QuickScanner(Scanner):
    """The pure scanner."""

    @cached_property
    def reader(self) -> Any:
        """What gives the characters."""
        return self.loader.reader

    def check_token(self, *choices: type) -> bool:
        """Whether there is a next token, and of one of these kinds."""
        while self.need_more_tokens():
            self.fetch_more_tokens()
        return bool(self.tokens) and (not choices or isinstance(self.tokens[0], choices))

    def need_more_tokens(self) -> bool:
        """Whether the next token may yet turn out to begin a key."""
        if self.done or not self.tokens:
            return not self.done
        if not self.possible_simple_keys:
            return False
        self.stale_possible_simple_keys()
        return bool(self.next_possible_simple_key() == self.tokens_taken)

    def next_possible_simple_key(self) -> int | None:
        """The number of the token where the first key may have begun."""
        for key in self.possible_simple_keys.values():
            return int(key.token_number)
        return None

    def stale_possible_simple_keys(self) -> None:
        """Forget the places that are too far back for a key; the first that is not ends the look."""
        while self.possible_simple_keys:
            level = next(iter(self.possible_simple_keys))
            key, reader = self.possible_simple_keys[level], self.reader
            if key.line == reader.line and reader.index - key.index <= LONGEST_KEY:
                return
            if key.required:
                began = "while scanning a simple key"
                raise ScannerError(began, key.mark, "could not find expected ':'", reader.get_mark())
            del self.possible_simple_keys[level]


class QuickParser(Parser):
    """The pure parser, which asks for its scanner once."""

    @cached_property
    def scanner(self) -> Any:
        """What gives the tokens."""
        return self.loader.scanner
