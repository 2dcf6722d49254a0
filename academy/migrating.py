"""Migrations that are written down in the very transaction that makes them."""

from django.db.migrations.executor import MigrationExecutor
from django.db.migrations.migration import Migration


class WholeMigrations(MigrationExecutor):
    """Django's executor, for a machine that may be switched off at any moment.

    Django notes a step that leaves statements for its end (an index of a new table) only after it was committed. A
    power cut between the two leaves a step that is done and not noted: the next start would make its tables again
    and fail, for good. Here such statements run inside the step, which is then noted with it or not at all.
    """

    def apply_migration(self, state, migration: Migration, **options):
        migration.apply = _with_its_end(migration.apply)
        try:
            return super().apply_migration(state, migration, **options)
        finally:
            del migration.apply


def _with_its_end(apply):
    def whole(state, schema_editor, collect_sql=False):
        state = apply(state, schema_editor, collect_sql)
        if not collect_sql:
            for statement in schema_editor.deferred_sql:
                schema_editor.execute(statement, None)
            schema_editor.deferred_sql.clear()
        return state

    return whole
