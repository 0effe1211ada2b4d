"""One file for each revision. A revision that was released is never changed; a new one follows it."""
