"""Live reading: registers, OPC UA and a transmitter on its loop, read and never written, followed tag by tag.

`plan` says what is watched, a port reads one tag, a `Link` keeps at it through every fault of the line, a `Follower`
makes of its samples what is shown and kept, and `watch` lets all of them run. Clocks are handed in.
"""
