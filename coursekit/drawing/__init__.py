"""Charts by matplotlib, printed sheets by fpdf2, and the site plan as data for a template."""
