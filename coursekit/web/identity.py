"""Who sends this request: one signed token in the cookie, looked up once a request."""

from __future__ import annotations

from flask import current_app, g, request, session

from coursekit.services import accounts
from coursekit.services.accounts import Person
from coursekit.services.actor import Actor
from coursekit.store.filing import Filing
from coursekit.store.unit import Unit
from coursekit.web import clock

UNIT = "coursekit-unit"
FILING = "coursekit-filing"
SIGN_IN = "sign-in"
CARD = "class-card"
UTC_ZONE = "UTC"


def unit() -> Unit:
    """Return the app's unit of work, which every service takes first."""
    found: Unit = current_app.extensions[UNIT]
    return found


def filing() -> Filing:
    """Return where the app keeps the files that people hand in."""
    found: Filing = current_app.extensions[FILING]
    return found


def person() -> Person | None:
    """Return the person who is signed in, None for a visitor or an ended sign-in."""
    if "person" not in g:
        g.person = _look_up()
    found: Person | None = g.person
    return found


def someone() -> Person:
    """Return the person who is signed in, behind a rule that lets nobody else through."""
    found = person()
    if found is None:
        raise LookupError("a page for signed-in people was reached without a sign-in")
    return found


def actor() -> Actor:
    """Return the signed-in person as services want it."""
    return someone().actor


def begin(token: str, card: tuple[str, str] | None = None) -> None:
    """Keep a sign-in in the cookie; a new sign-in shares nothing with what was before.

    `card` holds the codes of a student's class card: join code and return code.
    """
    session.clear()
    session[SIGN_IN] = token
    if card is not None:
        session[CARD] = list(card)
    session.permanent = True
    g.pop("person", None)


def end() -> None:
    """Forget the sign-in in the cookie."""
    session.clear()
    g.pop("person", None)


def token() -> str:
    """Return the token of the present sign-in."""
    return str(session[SIGN_IN])


def class_card() -> tuple[str, str] | None:
    """Return the join and the return code that were typed or shown on this device."""
    kept = session.get(CARD)
    return (str(kept[0]), str(kept[1])) if kept else None


def client() -> str:
    """Return where the request comes from, for services to slow guessing down."""
    return request.remote_addr or ""


def timezone() -> str:
    """Return the time zone in which this person reads dates."""
    found = person()
    return found.school.timezone if found else UTC_ZONE


def _look_up() -> Person | None:
    kept = session.get(SIGN_IN)
    return accounts.person_of(unit(), kept, clock.now()) if kept else None
