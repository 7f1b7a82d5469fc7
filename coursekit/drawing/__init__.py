"""Pictures: charts by matplotlib as SVG files, the site plan as data for a template."""
