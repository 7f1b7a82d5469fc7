"""Migrations, run by `store.engine.migrate`; drafted by `store.migrations.draft`."""
