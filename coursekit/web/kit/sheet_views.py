"""The kit on paper, as files that a browser shows and prints."""

from __future__ import annotations

from flask import request
from flask.typing import ResponseReturnValue

from coursekit.drawing.wear_chart import life_chart_png
from coursekit.services import kit
from coursekit.services.kit_list import kit_list
from coursekit.services.shelf import found_items
from coursekit.web import clock
from coursekit.web.given_out import pdf_response
from coursekit.web.identity import actor, someone, timezone, unit
from coursekit.web.kit.item_page import item_page, life_for_chart
from coursekit.web.kit.sheets import (
    inspections_sheet,
    kit_list_sheet,
    life_sheet,
    register_sheet,
)
from coursekit.web.kit.store_page import asked


def register_pdf() -> ResponseReturnValue:
    """Give the register out, narrowed as it is on the screen."""
    search = asked(request.args)
    found = found_items(unit(), actor(), search.sought, clock.today(timezone()))
    return pdf_response(register_sheet(found, _school(), clock.now()), "kit-register")


def item_pdf(item_id: int) -> ResponseReturnValue:
    """Give the life of an item out."""
    today = clock.today(timezone())
    life = kit.item_life(unit(), actor(), item_id, today)
    page = item_page(life)
    chart = life_chart_png(*life_for_chart(life, today))
    sheet = life_sheet(page, life, chart, _school(), clock.now())
    return pdf_response(sheet, f"life-of-{life.item.mark}")


def inspections_pdf(item_id: int) -> ResponseReturnValue:
    """Give the examinations of an item out."""
    life = kit.item_life(unit(), actor(), item_id, clock.today(timezone()))
    sheet = inspections_sheet(item_page(life), life, _school(), clock.now())
    return pdf_response(sheet, f"examinations-of-{life.item.mark}")


def kit_list_pdf(class_id: int) -> ResponseReturnValue:
    """Give the kit list of a class out, to be ticked and signed."""
    found = kit_list(unit(), actor(), class_id, clock.today(timezone()))
    return pdf_response(kit_list_sheet(found, _school(), clock.now()), f"kit-of-{class_id}")


def _school() -> str:
    return someone().school.name
