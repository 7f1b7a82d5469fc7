"""The pages: thin views over services, one folder for each area.

Where to look: `app` makes the app; `routes` holds how an area's table of pages
states who may open each; `security` guards every request; `errors` turns every
failure into a page; `identity` knows who is signed in; `clock` reads the clock.
"""
