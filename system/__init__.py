"""The pages in a real browser, and the server as a process of its own."""
