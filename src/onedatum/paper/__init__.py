"""Papers made from a study: the ruler drawing, the Typst document, the fonts both are set in."""
