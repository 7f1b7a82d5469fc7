"""What the people of a school do in a browser, in the words of the pages."""

from __future__ import annotations

import re
from dataclasses import dataclass

from playwright.sync_api import Locator, Page, expect

from tests.browser.visitor import Visitor


@dataclass
class Staff:
    """An instructor or a storekeeper."""

    visitor: Visitor

    @property
    def page(self) -> Page:
        return self.visitor.page

    def sign_in(self, name: str, password: str) -> None:
        self.visitor.open("/sign-in")
        self.page.get_by_label("Sign-in name").fill(name)
        self.page.get_by_label("Password", exact=True).fill(password)
        self.visitor.look("sign-in")
        self.page.get_by_role("button", name="Sign in").click()
        expect(self.page.get_by_role("link", name="Me", exact=True)).to_be_visible()

    def log_first_pull(self, ending: str) -> None:
        """Go through the hold point of the first rig on the list, and log how it ended."""
        self.page.get_by_role("link", name="Hold point and pulls").click()
        self.visitor.look("choose-pull")
        self.page.get_by_role("link", name=re.compile("^Hold point")).first.click()
        self.visitor.look("hold-point")
        for box in self.page.locator("main form label.choice").all():
            box.click()
        self.page.get_by_role("button", name="All true: pull, then log it").click()
        self.page.locator("label.choice").filter(has_text=ending).click()
        self.visitor.look("log-pull")
        self.page.get_by_role("button", name="Log the pull").click()
        expect(self.page.get_by_role("heading", name="What it did to the kit")).to_be_visible()
        self.visitor.look("pulled")

    def close_class(self) -> None:
        self.page.get_by_role("link", name="Close the class").click()
        self.visitor.look("close")
        self.page.get_by_role("button", name="Close the class").click()
        self.visitor.look("closed")

    def issue_records(self, place: str) -> None:
        """Issue the records of the class whose page is open, and read the first of them."""
        self.page.get_by_role("link", name="Results and records").click()
        self.page.get_by_label("Where was it?").fill(place)
        self.page.get_by_role("button", name="Issue the records").click()
        self.visitor.look("records-issued")
        self.page.get_by_role("link", name="Record", exact=True).first.click()
        for folded in self.page.locator("main summary").all():
            folded.click()
        self.visitor.look("record")

    def quarantine(self, reason: str) -> None:
        """Hold back the item whose page is open."""
        self.page.get_by_role("link", name="Quarantine").click()
        self.page.get_by_label("What is wrong, or in doubt?").fill(reason)
        self.visitor.look("quarantine")
        self.page.get_by_role("button", name="Quarantine it").click()
        expect(self.page.get_by_text("Put into quarantine by")).to_be_visible()

    def retire(self, reason: str) -> None:
        """Retire the item whose page is open."""
        self.page.get_by_role("link", name="Retire", exact=True).click()
        self.page.get_by_label("Why does it retire?").fill(reason)
        self.page.get_by_label("How was it destroyed?").fill("cut through both eyes")
        self.page.get_by_label("Who saw it destroyed?").select_option(index=1)
        self.page.get_by_text("It is destroyed").click()
        self.visitor.look("retire")
        self.page.get_by_role("button", name="Retire it").click()
        expect(self.page.locator("main .mark").first).to_contain_text("retired")

    def make_class(self, title: str, scenarios: list[str]) -> str:
        """Make a class, choose its scenarios, open it, and return the join code."""
        self.visitor.open("/classes/new")
        self.visitor.look("new-class")
        self.page.get_by_label("Name of the class").fill(title)
        self.page.get_by_role("button", name="Make it, then choose scenarios").click()
        for scenario in scenarios:
            self.page.locator("label.choice").filter(has_text=scenario).click()
        self.visitor.look("draft")
        self.page.get_by_role("button", name="Open to students").click()
        expect(self.page.get_by_role("heading", name="Join with this code")).to_be_visible()
        self.visitor.look("class-open")
        return self.page.locator("p.code").inner_text().strip()


@dataclass
class Student:
    """A student with a phone."""

    visitor: Visitor
    code: str = ""

    @property
    def page(self) -> Page:
        return self.visitor.page

    def join(self, code: str, name: str) -> None:
        self.code = code
        self.visitor.open("/join")
        self.page.get_by_label("Join code").fill(code)
        self.page.get_by_label("Your name").fill(name)
        self.visitor.look("join")
        self.page.get_by_role("button", name="Join the class").click()
        expect(self.page.get_by_role("heading", level=1)).to_contain_text("You are in")
        self.visitor.look("card")
        self.page.get_by_role("link", name="To the scenarios").click()

    def begin(self, scenario: str) -> None:
        self.visitor.look("my-class")
        sheet = self.page.get_by_role("listitem").filter(has_text=scenario)
        sheet.get_by_role("button", name="Begin").click()
        expect(self.page.get_by_role("heading", level=1)).to_contain_text(scenario)
        self.visitor.look("brief")
        self.page.get_by_role("link", name="To the first task").click()

    @property
    def form(self) -> Locator:
        return self.page.locator("form[data-answer]")

    @property
    def sent(self) -> Locator:
        """What the page says about answers that were sent and that wait."""
        return self.page.get_by_role("status").filter(has_text="sent")

    def at_task(self, number: int) -> None:
        expect(self.form).to_contain_text(f"Task {number} of")

    def type_number(self, text: str) -> None:
        self.form.get_by_role("textbox").fill(text)

    def choose(self, *texts: str) -> None:
        for text in texts:
            self.form.locator("label.choice").filter(has_text=text).click()

    def order(self, things: list[str]) -> None:
        """Put lines in order: by the buttons where a script made them, else by numbers."""
        for place, thing in enumerate(things):
            line = self.form.locator("li").filter(has_text=thing)
            if not self.visitor.scripts:
                line.get_by_role("combobox").select_option(str(place + 1))
                continue
            while self._place_of(thing) > place:
                line.get_by_role("button", name=re.compile("^Up")).click()

    def _place_of(self, thing: str) -> int:
        texts = self.form.locator("[data-order] > li").all_inner_texts()
        return next(place for place, text in enumerate(texts) if thing in text)

    def rig_one_line(self, start: str, line: str, end: str, joiner: str) -> None:
        """Build a winch rig of one line, with a damper, from plain controls."""
        self.choose("Winch pull")
        pull = self.form.get_by_role("group", name="The line that pulls")
        pull.get_by_label("The line starts at").select_option(label=start)
        part = pull.get_by_role("group", name=re.compile("^The line is made of"))
        part.get_by_label("Part 1").select_option(label=line)
        pull.get_by_label("The line ends at").select_option(label=end)
        joints = pull.get_by_role("group", name=re.compile("^What joins the line to it, from"))
        joints.get_by_label("Piece 1").select_option(label=joiner)
        pull.locator("label.choice").filter(has_text="line damper").first.click()

    def answer_anything(self) -> None:
        """Give the open task some answer that can be read, whatever it asks for."""
        if self.form.locator("[type=text]").count():
            self.type_number("5")
            for units in self.form.get_by_role("combobox").all():
                units.select_option(index=1)
        elif self.form.locator("[data-winch-lines]").count():
            self.page.get_by_role("link", name="Go on without").click()
            return
        elif self.form.locator("[type=radio], [type=checkbox]").count():
            self.form.locator("label.choice").last.click()
        self.save()

    def save(self) -> None:
        here = self.page.url
        self.page.get_by_role("button", name="Save and go on").click()
        self.page.wait_for_url(lambda url: url != here)

    def hand_in(self) -> None:
        """Hand in from the page that follows the last task."""
        self.visitor.look("hand-in")
        self.page.get_by_role("button", name="Hand in and see my marks").click()
        expect(self.page.get_by_role("heading", name="Task by task")).to_be_visible()
        self.visitor.look("marks")
