"""The further pages of a case and what belongs to them: every router that `app` takes in beside its first two."""

from __future__ import annotations

from fastapi import APIRouter

from onedatum.web import (
    causes_pages,
    choosing_pages,
    compare_pages,
    formula_pages,
    paper_pages,
    proving_pages,
    quantity_pages,
    review_pages,
    sheet_pages,
    signal_pages,
    table_pages,
    task_pages,
)

router = APIRouter()
for each in (
    choosing_pages,
    sheet_pages,
    quantity_pages,
    table_pages,
    paper_pages,
    proving_pages,
    causes_pages,
    compare_pages,
    formula_pages,
    review_pages,
    signal_pages,
    task_pages,
):
    router.include_router(each.router)
