"""What is going wrong, from a log: one pass that reduces any length to blocks and events, then detectors over those.

- `seen`: the pass. `blocks`, `runs`, `events`, `samples`: what it keeps, all bounded.
- `beside`: dips and movements, read from files of lines.
- `bench`: what every detector is handed; which blocks rest and which are moved.
- `detectors`: one module each; `judge` runs them all. `limits`: the table of signatures, delays and ceilings.
- `columns`: least and greatest level for each column of a picture.

A finding names a signature, its statistic and how often chance shows the same; never a cause. What cannot be judged is
said. The arithmetic stands in `onedatum.physics.detection`.
"""
