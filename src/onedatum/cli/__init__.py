"""Commands: words in, words out; each calls one job."""
