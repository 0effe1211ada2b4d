"""That a watch began and ended, as records in the chain: which folder, which plan, which cases, how many rows.

The rows themselves are no records: they come by the second and are kept in parts. A record says what the parts are of.
"""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path

from onedatum.jobs.watch.kept import Tally
from onedatum.logs.live.follower import Follower
from onedatum.logs.live.plan import WatchPlan
from onedatum.store.store import Store

KIND, WHO = "watch", "onedatum watch"


def note(where: str, what: str, plan: WatchPlan, followers: Iterable[Follower], out: Path | None, tally: Tally) -> None:
    """Append a record for every tag; raises StoreError."""
    with Store.open(where) as store:
        for each in followers:
            payload = {
                "what": what,
                "plan_sha256": plan.content_hash,
                "tables_sha256": each.levelling.lasting_hash,
                "folder": "" if out is None else out.name,
                "parts": tally.parts,
                "rows_of_all_tags": tally.rows,
            }
            store.append(KIND, each.plan.tag, WHO, payload)
