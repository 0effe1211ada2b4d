"""One module for each signature or family of them; each takes the bench and adds to what was judged."""
