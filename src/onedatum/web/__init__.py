"""The case page: a local web page and its JSON API. Words in, words out; each route calls a job."""
